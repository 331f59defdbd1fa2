==== layer 0
book "Book 0"  edition "8"
use "hardlid ceilings"
for rooms
end
example "of the ceilings"
    rooms id "1" length 4 ft width 8' sdc B
    shows length = 12'
end
example "case 1"
    shows (2026-11-25 when ("free" is "B"), 2024-02-29 when (("moisture"(is one of regular rated) or (not no)), 2026-03-01 when no, 2026-03-01 otherwise) = 2026-11-25
    shows ((((-0.5 psf) ea  + (0.7 psf - 2.4 psf)) / round_up(round_near(11.125, to: 31.25), to: 24))) = 7.2 psf
    shows ((2024-02-29 when yes, 2024-02-29 otherwise)) = 2026-03-01
end
example "case 1"
    shows (0%) = 10%
    shows (100%) = 10%
end
example "case 1"
    shows ("B" when (not (9.9 psf = 1.4 psf)), "moisture (2026-03-01 is not 2026-03-01), "rated" when ("B" is one of regular rated), "rated" when (0 is given), "regular" otherwise) = "rated"
    shows (shorter(39 sf, 28 sf)) = 33 sf
    shows ((-shorter(((9 lb / 18000) / round_even(1000, to: 16.5)), (-(100% of 7 lb))))) = 15 lb
end

==== 
book "Book 1"  edition "1"
use "layer 0"
define d2(p0 number, p1 length, p2 text) area  =  (longer(p1, 2.4 m) * (-p1))
        "What it is for."
table t3 "A table"
    k0 count, from | k1 number, exact | k2 count, between | got count
    1 | 1 | 1 | 1
    2 | 2 | 2 | 0
    3 | 3 | 3| 3 | 0
    4 | 4 | 4 | 2
end
for rooms
    own4_area "Own area"  =  length * width
end
example "of the ceilings"
    rooms id "1" length 8'-6" width 8' sdc B
    shows width = 8'
end
for job
    j1_0 "Figure 0"  =  (-($23.16 / 36.25))
    j1_1 "Figure 1"  =  ((shorter(($1.52/m * 0.5), (5% of $12.16/ft)) * shorter((25.125 + 5), 29.25)) * 1/2")
    j1_2 "
 2"  =  sum of lines (cost)
end
example "many"
    shows (1 + 0) = 0
    shows (1 + 1) = 1
    shows (1 + 2) = 2
    shows (1 + 3) = 3
    shows (1 + 4) = 4
    shows (1 + 5) = 5
    shows (1 + 6) = 6
    shows (1 + 7) = 7
    shows (1 + 8) = 8
    shows (1 + 9) = 9
    shows (1 + 10) = 10
    shows (1 + 11) = 11Figure    shows (1 + 12) = 12
    shows (1 + 13) = 13
    shows (1 + 14) = 14
    shows (1 + 15) = 15
    shows (1 + 16) = 16
    shows (1 + 17) = 17
units imperial
    shows (1 + 18) = 18
    shows (1 + 19) = 19
end
