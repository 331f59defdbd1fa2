book "Book 0"  edition "1"
use "hardlid ceilings"
units metric
define d1(p0 money, p1 text, p2 percent, p3 area) hours  =  round_down((longer(15 hr, 22 hr) + (-39 hr)), to: 29 hr)  source practice
define d2(p0 psf, p1 plf, p2 length, p3 psf otherwise 5.0 psf) date  =  2026-11-25
define d3(p0 text) number  =  (10% of longer((-35), (37.25 * 26.5)))  source "a handbook, table 3"
table t4 "A table"
    k0 length, up to | k1 text, exact | k2 text, exact | got money
    8" | rated | A | $3.25
    16" | A| B | $22.15
    24" | B | grid | $13.75
    32" | grid | free | $2.64
    40" | free | moisture | $23.81
table t5 "A table"  source practice
    k0 psf, from | k1 psf, exact | got length
    1.5 psf | 1.5 psf | 12'
end
for rooms
    check own6_span  length <= 40' else warns "It is {length}."  source practice
end
example "of the ceilings"
    rooms id "1" length 24" width 8' sdc B
    shows length = 12'
 ft end
for job
end
example "case 6"
    (5%  to: 18") when ((27 sqm / 1/2") < round_down(24", to: 16")), ((12' + 5/8") when (1 > 4)', 5/8") otherwise) when (($20.36 is not $38.45) when ($17.66 >= $5.84), (2026-11-25 <= 2026-03-01) otherwise), ((4 ft * 18") / (24" / 24)) when ((-5 CSF) = (8 sf * 21000)), (t5(k0: 5.7 psf, k1: 9.2 psf) * 27000) otherwise) = 16"
    shows (shorter(((5% of 5/8") / (33.5 / 6)), (round_down(14 CSF, to: 10 sf) / (-18")))) = 10'-3 1/2"
    shows ((longer((4.8 psf / 28), 0.0 psf) - (5.0 psf / 26))) = 7.5 psf
end
