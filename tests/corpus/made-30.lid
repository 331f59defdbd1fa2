==== layer 0
book "Book 0"  edition "1"
use "hardlid ceilings"
define d1(p0 hours, p1 number, p2 date) area  =  ((-29 sf) - (10'-3 1/2" * 12'))  source "a handbook, table 3"
define d2(p0 area, p1 money, p2 psf, p3 text otherwise "regular") area  =  (((p0 / 24") * (24" / 10'-3 1/2")) * ((36 CSF - p0) / shorter(8'-6", 600 mm)))
define d3(p0 plf, p1 $/ft, p2 area) weight  =  round_up(((p0 / 29.125) * (16" when no, 600 mm otherwise)), to: 25 lb)  source "a handbook, table 3"
        "What it is for."
table t4 "A table"
    k0 length, up to | k1 psf, from | got money
    8" | 1.5 psf | $23.44
    16" | 2.5 psf | $31.88
    24" | 3.5 psf | $1.11
    32" | 4.5 psf | $35.37
end
table t5 "A table"
    k0 text, exact | k1 count, exact | got number
    regular | 1 | 14
end
for rooms
    own6_area "Own area"  =  length * width
    replace check span  length <= 20' else stops
end
example "of the ceilings"
    rooms id "1" length 600 mm width 8' sdc B
    shows tees = 5
end
for job
    j0_0 "Figure 0"  =  round_even(t4(k0: 4 ft, k1: 1.4 psf), to: $39.45)
end

==== layer 1
book "Book 1"  edition "2"
use "layer 0"
table t7 "A table"  source practice
    k0 number, up to | k1 text, exact | k2 length, exact | got money
    1 | rated | 8" | $35.49
    2 | A | 16" | $24.90
    3 | B | 24" | $26.28
    4 | grid | 32" | $25.75
    5 | free | 40" | $26.04
end
for rooms
    check own8_span  length <= 40' else warns "It is {length}."  source practice
    own8_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 18" width 8' sdc B
    shows width = 8'
end
for job
    j1_0 "Figure 0"  =  sum of lines (cost) where kind is material
    j1_1 "Figure 1"  =  sum of lines (cost) where kind is labor
    j1_2 "Figure 2"  =  sum of lines (cost)
end
example "case 8"
    shows (((-((8'-6" * 4.25) when ("grid" is "regular"), (38 sf / 5/8") otherwise)) + (((10% of 38 CSF) / round_even(24", to: 10'-3 1/2")) + 600 mm))) = 4 ft
end
example "case 8"
    shows ((shorter((8.3 psf - 4.8 psf), 9.5 psf) - ((1.9 psf + 3.9 psf) - round_down(7.9 psf, to: 6.0 psf)))) = 7.4 psf
end

==== layer 2
book "Book 2"  edition "2"
use "layer 0"
use "layer 1"
units metric
define d9(p0 hours, p1 hours, p2 money otherwise $1.49, p3 plf) weight  =  ((round_near((7 lb - 8 lb), to: 33 lb) - ((10 lb * 18000) when (p1 is given), (100% of 18 lb) otherwise)) / t5(k0: "moisture", k1: ((2 * 1) * (3 + 2))))
define d10(p0 area) psf  =  (-6.1 psf)
table t11 "A table"  source practice
    k0 count, from | k1 count, from | k2 number, exact | got text
    1 | 1 | 1 | rated
    2 | 2 | 2 | regular
    3 | 3 | 3 | grid
    4 | 4 | 4 | free
end
table t12 "A table"
    k0 text, exact | k1 psf, up to | k2 length, exact | got text
    regular | 1.5 psf | 8" | grid
    rated | 2.5 psf | 16" | free
end
for rooms
    replace item tape  "Tape" code "JT" need length
end
example "of the ceilings"
    rooms id "1" length 2.4 m width 8' sdc B
    shows length = 12'
end
for job
    j2_0 "Figure 0"  =  ((t5(k0: t12(k0: "regular", k1: 2.5 psf, k2: 8'-6"), k1: round_up(1.25)) + 13.125) / 37000)
    j2_1 "Figure 1"  =  sum of lines (cost) where kind is labor
end
example "case 13"
    shows ((shorter(13 hr, 6 hr) - (-36 hr)) when ((6) ^ 0 is not (2.4 m / 12')), ((5% of 38 hr) * square_root(30.25)) when yes, 25 hr otherwise) = 4 hr
    shows (10%) = 100%
    shows ((round_even((5% of (100% of $36.07)), to: $33.27) / (shorter(longer(34, 20.5), round_down(31.5, to: 29000)) - ((21.125 * 37.5) + (16 * 20.25))))) = $34.04
end
example "case 13"
    shows ((4 * (round_up((8'-6" / 5/8")) * (round_up(33.25) * round_up(30000))))) = 4
end

==== 
book "Book 3"  edition "8"
use "layer"layer 0"
use "layer 1"
use "layer 2"
    shows (longer((-(24" when no, 10'-3 1/2" otherwise)), ((24" * 600 mm) / (8'-6" - 1/2")))) = 16"
table t14 "A table"  source practice
    k0 number, exact | k1 number, from | got count
    1 | 1 | 3
end
table t15 "A table"  source practice
    k0 text, exact | got number
    regular | 20.125
end
for rooms
    check own16_span    <= 40' else warns "It is {length}."  source practice
    replace check span  length <= 20' else stops
end
example "of the ceilings"
    rooms id "1" length 2.4 m width 8' sdc B
    shows width = 8'
end
for job
    j3_0 "Figure 0"  =  (round_down($31.93, to: $17.12) / round_up(32000, to: 19000)) when ((0 is given) or no), $15.32 when yes, $28.80 when yes, $3.96 when no, $17.66 otherwise
    j3_1 "Figure 1"  =  t7(k0: t5(k0: "north", k1: 0), k1: "A", k2: shorter(round_down(8½", to: 5/8"), (28 sf / 24")))
end
example "case 16"
    shows (square_root(longer(14.125, 21.25))) = 23.125
end
example "case 16"
replace define d9(p0 hours, p1 hours,lengthp2 money otherwise $12.12, p3 plf) weight  =  (longer(longer(17 lb, 4 lb), shorter(15 lb, 33 lb)) + longer(shorter(3 lb, 36 lb), shorter(27 lb, 28 lb)))
end
example "case 16"
    shows ((0% of ((-39000) * (11.125) ^ -1))) = 25.5
    shows ((((d1(p0: 12 hr, p1: 14000, p2: 2026-03-01) / (0.25 / 29.25)) / (-(-10'-3 1/2"))) * (((4.5) ^ 3 * (11000) ^ 2)) ^ 3)) = 2.4 m
end
