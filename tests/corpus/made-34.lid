==== layer 0
book "Book 0"  edition "4"
use "hardlid ceilings"
define d1(p0 hours, p1 date otherwise 2026-11-25, p2 text otherwise "B") weight  =  ((6 lb * 27.25) - (27.5 plf * 5/8"))
define rate_2(p0 length) text  =  "regular" when (round_up(36.5) >= (3 * 0)), "A" when no, "north" otherwise  source "a handbook, table 3"
table t3 "A table"
    k0 text, exact | k1 count, exact | k2 number, up to | got count
    regular | 1 | 1 | 0
    rated | 2 | 2 | 1
    A | 3 | 3 | 0
end
table t4 "A table"  source practice
    k0 number, from | k1 count, between | got weight
    1 | 1 | 32 lb
    2 | 2 | 5 lb
end
for rooms
    replace spacing "Spacing"  =  16"  source practice
    item own5_bead "Bead" code "CB" need length + width  only when layers > 1
    labor own5_work code "L-TEE" need length  rate 0.02 hr/ft
end
example "of the ceilings"
    rooms id "1" length 4 ft width 8' sdc B
    shows length = 12'
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost)
    j0_2 "Figure 2"  =  sum of lines (cost) where kind is material
end
example "case 5"
    shows (($3.12 + $20.24)) = $3.40
    shows ((4 when (15 CSF is not 34 sf), (1 + 0) otherwise) when ((no or yes) or ($24.94 is not $27.11)), round_up(square_root(39.125)) otherwise) = 4
end
example "case 5"
    shows ((longer(0, 8.5) - (2.4 m / 1/2")) when ("north" is "north"), (-(1000 + 6000)) when ((0.1 psf >= 1.4 psf) and (2024-02-29 = 2024-02-29)), round_down((5/8" / 12'), to: 23000) when ((no or yes) and (not no)), ((26) ^ 2) ^ 6 otherwise) = 8
    shows ((-round_down($5.13/ft, to: $32.80/ft)) when ("A" is "rated"), shorter((5% of $7.96/m), (-$17.92/ft)) otherwise) = $8.61/MLF
end

==== layer 1
book "Book 1"  edition "6"
use "layer 0"
for rooms
    item own6_bead "Bead" code "CB" need length + width  only when layers > 1
    own6_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 18" width 8' sdc B
    shows length = 12'
end
example "case 6"
    shows (2026-11-25) = 2026-03-01
end
example "case 6"
    shows (((10% when (not (not no)), 10% otherwise) when (((6.5 psf < 1.7 psf) or (2 is given)) and (round_up(1.5) <= round_up(600 mm / 10'-3 1/2"))), 5% otherwise)) = 7.5%
end
example "case 6"
    shows ((10% of 1.3 psf)) = 7.5 psf
end

==== 
book "Book 2"  edition "5"
use "layer 1"
define d7(p0 date) yes/no  =  ((4 ft is not 600 mm) when ("grid" is "grid"), (600 mm is given) otherwise)  accepted "as it is"
for rooms
    replace spacing "Spacing"  =  16"  source practice
    labor own8_work code "L-TEE" need length  rate 0.02 hr/ft
    replace item tape  "Tape" code "JT" need length
    own8_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 24" width 8' sdc B
    shows width = 8'
end
for job
    j2_0 "Figure 0"  =  sum of lines (cost)
end
for job
    deep = not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not yes
end
