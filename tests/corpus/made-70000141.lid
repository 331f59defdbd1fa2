==== layer 0
book "Book 0"  edition "5"
rows rooms  from "Rooms"
    id text key
    f1 date
    f2 yes/no  heading "Heading 2" or "H2"
    f3 percent
    f4 hours  at least 1 hr
    f5 count  above 2
    f6 $/ft
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f7 area  below 20 sqm  may be blank
    f8 length  below 16"
    f9 length  from 0' to 1/2"  shown in mm
    f10 date
    f11 date  heading "Heading 11" or "H11"
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f12 psf  heading "Heading 12" or "H12"  may be blank
    f13 weight
    f14 area  from 0 sf to 15 sqm  may be blank
    f15 length  below 24"
    f16 plf
    f17 yes/no  may be blank
end
define d18(p0 money) plf  =  ((2.2 psf when yes, 2.5 psf otherwise) * 8½")  source practice  accepted "as it is"
define d19(p0 length) number  =  round_near(((23 * 21.5) * (28 * 31.25)), to: 1.5)
define d20(p0 weight) $/ft  =  ($39.42/m - $8.00/m)  source "a handbook, table 3"
table t21 "A table"
    k0 length, exact | k1 text, exact | k2 length, between | got text
    8" | rated | 8" | regular
    16" | A | 16" | regular
    24" | B | 24" | B
    32" | grid | 32" | rated
    40" | free | 40" | north
    48" | moisture | 48" | grid
end
table t22 "A table"
    k0 number, between | got length
    1 | 8½"
    2 | 5/8"
    3 | 600 mm
    4 | 1/2"
    5 | 16"
end
for rooms
    g23 "Label g23"  =  round_near(600 mm, to: 8½")
    g24  =  ((f6 * 13.5) * (f3 of 3.5)) when (("A" is one of regular rated A) and (not f2)), round_near(d20(p0: 22 lb), to: $15.16/CLF) when (all of openings ((f5 > f5))), ((f3 of $34.13) / round_down(g23, to: 1/2")) when ((any of bays (f2)) and (f2 or no)), (f6 when f2, f6 otherwise) when f2, $10.63/m otherwise  source "a handbook, table 3"
    g25  =  0 when ((all of bays (yes)) or (0.3 psf <= 9.3 psf)), ((f5 when yes, f5 otherwise) * 2) otherwise
    g26 "Label g26"  =  ((shorter((-f4), longer(f4, 4 hr)) + (-f4)) * square_root(longer((18.5) ^ 6, longer(35.5, 7.5))))  source practice
        "What it is for."
    item i27 "Thing i27" code "XX" need (sum of bays ((8'-6" * f15)))
    item i28 "Thing i28" code "ST" need (((34 lb - 39 lb) / longer(20.25, 16)) when ("grid" is one of regular rated), shorter((-28 lb), (-22 lb)) otherwise)
    item i29 "Thing i29" code "AN" need ((shorter(8 sf, 3 sqm) + shorter(21 sf, 7 sqm)) * ((38000 when f2, 10.5 otherwise) * 7))
end
for bays
    g30 "Label g30"  =  ((f13 * 6000) - (f16 * f15))  source practice
    g31  =  shorter(f4, (f4 - f4)) when ((f1 <= 2026-03-01) when (f2 or f17), (f1 is not f1) otherwise), shorter(longer(f4, f4), longer(f4, f4)) otherwise  source "a handbook, table 3"
    g32 "Label g32"  =  ((-(longer(g31, 17 hr) - (-g31))) - (-(f3 of 20 hr)))  source "a handbook, table 3"
    g33  =  (f3 of (-4.125)) when (("grid" is one of regular) or (f2 when f17, f17 otherwise)), longer((f15 / 8'-6"), shorter(27.125, 1.25)) when (not (yes or f17)), (square_root(34.25) / (22.5 / 37.125)) when ("north" is "moisture"), 39.5 otherwise  source practice
    g34  =  (round_up(f15 / f15) when (f2 and f17), round_up(f15 / f15) otherwise) when ("free" is one of regular), f5 when (f1 is given), f5 when f2, f5 otherwise
        "What it is for."
    g35 "Label g35"  =  longer(round_near($0.61, to: $13.82), ($26.84 / g33))
        "What it is for."
    check c36 ((g34 = g34) or (f2 or no)) else notes
    check c37 (("free" is one of regular rated) and ((g35 - g35) < (g35 when yes, $35.24 otherwise))) else notes
end
for openings
    g38 "Label g38"  =  (-d18(p0: (-($21.79 / 19.5))))  source "a handbook, table 3"
    g39 "Label g39"  =  f3  source "a handbook, table 3"
    check c40 (round_even(9.8 psf, to: 5.1 psf) >= 4.2 psf) else stops
        "It is {g39}."
    item i41 code "GB" cut round_up(34.5), each (-f9) only when ("grid" is one of regular rated A B)
    item i42 "Thing i42" code "ST" need (((-f7) / (f7 / 18")) when ((5.7 psf <= 1.1 psf) when (f2 or f2), ("regular" is "B") otherwise), round_even(round_near(f8, to: 5/8"), to: 2.4 m) when ("moisture" is "grid"), ((f3 when f2, f3 otherwise) of longer(8'-6", 24")) when ((g38 is given) and (36.125 >= 5.25)), (longer(f7, f7) / (f7 / f8)) when ("moisture" is given), t22(k0: (24 / 21.25)) otherwise)
    labor i43 code "L-BRD" need ((100% of f9) when ("north" is one of regular), (10'-3 1/2" - g23) otherwise)
end

==== 
book "Book 1"  edition "9"
use "layer 0"
define d44(p0 psf) area  =  ((shorter(t22(k0: 29000), (-12')) * ((10% of 1/2") + (28 sf / 18"))) - 14 CSF)  source practice
table t45 "A table"
    k0 length, exact | k1 number, exact | k2 count, exact | got length
    8" | 1 | 1 | 18"
    16" | 2 | 2 | 18"
    24" | 3 | 3 | 16"
    32" | 4 | 4 | 5/8"
    40" | 5 | 5 | 8'-6"
    48" | 6 | 6 | 18"
end
table t46 "A table"  source practice
    k0 psf, exact | k1 psf, up to | got length
    1.5 psf | 1.5 psf | 8'-6"
    2.5 psf | 2.5 psf | 4 ft
    3.5 psf | 3.5 psf | 600 mm
    4.5 psf | 4.5 psf | 2.4 m
    5.5 psf | 5.5 psf | 8'-6"
end
for openings
    g47 "Label g47"  =  5%
    g48  =  ((g39 of 6.1 psf) / shorter(36, 23)) when ((f3 of $31.80) > ($38.42/MLF * f9)), 8.8 psf when f2, 6.2 psf otherwise
        "What it is for."
    g49  =  (f4 - shorter(f4, f4)) when ((1 * f5) = f5), (f4 when f2, 5 hr otherwise) when ((f10 >= 2026-03-01) or ("grid" is "free")), round_even(f4, to: 18 hr) when (("moisture" is one of regular rated A) or (f11 >= 2024-02-29)), shorter((f4 * 36.25), f4) when (not ("B" is one of regular rated A B)), (-(f4 when f2, 3 hr otherwise)) otherwise
end
for bays
    g50 "Label g50"  =  ("regular" is given)  source "a handbook, table 3"
    g51 "Label g51"  =  (f12 * f15)  source "a handbook, table 3"
    g52 "Label g52"  =  round_up((f3 of 18") / (-f15))  source "a handbook, table 3"
        "What it is for."
    check c53 (f15 is given) else stops
    item i54 "Thing i54" code "HW" need 3
    item i55 "Thing i55" code "ST" need ((d44(p0: (-8.4 psf)) / (f3 of round_near(f15, to: 12'))) when (2.7 psf is given), f15 otherwise) only when ((d20(p0: 21 lb) * (f14 / f15)) is not ((10% of g35) - (g35 + g35)))
end
for rooms
    replace g23 "Label g23"  =  (t46(k0: 1.8 psf, k1: 3.3 psf) - shorter(24", 18")) when (4.5 plf is given), (t22(k0: 9) + (35 CSF / 10'-3 1/2")) otherwise
    g56  =  shorter((10 lb when yes, 24 lb otherwise), (4 lb / 34.125)) when ("moisture" is one of regular), (5% of (2 lb + 1 lb)) when (2026-11-25 <= 2026-11-25), ((-27.5 plf) * (3 CSF / 24")) otherwise  source "a handbook, table 3"
    check c57 ((round_up(27) >= round_up(g23 / g23)) when (round_up(27 sqm, to: 36 CSF) < (27 sf - 16 CSF)), ("grid" is one of regular rated) when (any of openings ((f2 when f2, f2 otherwise))), ("north" is one of regular rated) when ((f1 is given) when (not yes), (f2 and f2) otherwise), (g25 is given) when ((f2 or f2) when (f1 is not f1), (f1 is given) otherwise), ("rated" is "moisture") otherwise) else warns
        "It is {g56}."
end
for job
    j1_0 "Figure 0"  =  sum of lines (cost) where kind is labor
    j1_1 "Figure 1"  =  (($5.59 when no, $7.95 otherwise) + ($11.60 + $13.04))
end
for job
    big = 7^2 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9 * 99999 ^ 9
end
