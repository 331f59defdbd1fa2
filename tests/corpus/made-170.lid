==== layer 0
book "Book 0"  edition "2"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 $/ft
    f2 $/ft
    rate_3 money
    f4 date  heading "Heading 4" or "H4"
    f5 count  from 3 to 1
    f6 hours  above 12 hr  may be blank
end
table t7 "A table"  source practice
    k0 text, exact | k1 text, exact | k2 text, exact | got weight
    regular | rated | A | 13 lb
    rated | A | B | 30 lb
    A | B | grid | 36 lb
    B | grid | free | 9 lb
end
table t8 "A table"  source practice
    k0 number, up to | k1 text, exact | k2 text, exact | got text
    1 | rated | A | free
    2 | A | B | A
end
for rooms
    g9  =  (((4 CSF / 23.25) / (-5/8")) / ((5% of 1/2") when ($24.12 = rate_3), (32 CSF / 12') otherwise))
    g10  =  ((5/8" when yes, 4 ft otherwise) / shorter(5/8", 8½")) when yes, g9 otherwise
    g11  =  (-f6) when ((no or yes) or (yes when yes, no otherwise)), shorter(f6, f6) otherwise  source "a handbook, table 3"
        "What it is for."
    g12  =  round_up(shorter(square_root((g9) ^ 6), (-(g9 when no, g9 otherwise))))
    g13  =  5%
    check c14 (("regular" is "free") and ("grid" is "moisture")) else warns
    check c15 (yes and no) else notes
        "It is {g13}."
    item i16 "Thing i16" code "XX" need (((4 + (f5 + f5)) + f5) + round_up((10% of (12' + 2.4 m)) / 1/2"))
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  0% of sum of lines (cost)
    j0_2 "Figure 2"  =  sum of lines (cost)
end
example "case 16"
    shows (longer(((1.6 psf * 10'-3 1/2") / (-20.5)), (shorter(1.1 psf, 3.9 psf) * 5/8"))) = 9.5 plf
    shows ((($21.43 / 20.125) is not (-$35.80))) = yes
    shows ((not (22 sf >= 6 CSF)) when ((2026-03-01 < 2026-03-01) and (16" is given)), yes when yes, yes when no, no when yes, yes otherwise) = yes
end

==== layer 1
book "Book 1"  edition "7"
use "layer 0"
define d17(p0 text, p1 count, p2 psf) text  =  ((p0 when no, "rated" otherwise) when (yes or no), "regular" otherwise) when (longer(11 CSF, 36 sqm) = (18" * 4 ft)), p0 otherwise
define d18(p0 number) hours  =  25 hr  source "a handbook, table 3"
define d19(p0 length, p1 text, p2 plf, p3 psf) money  =  (round_down(($37.21/ft * 18"), to: $5.50) when ((-7 sf) < (p0 * p0)), ((10% of $27.33/CLF) * (22 sf / p0)) otherwise)
table t20 "A table"  source practice
    k0 psf, exact | k1 psf, from | got count
    1.5 psf | 1.5 psf | 1
    2.5 psf | 2.5 psf | 0
end
for rooms
    g21  =  t20(k0: 8.6 psf, k1: 2.6 psf)  source practice
    g22 "Label g22"  =  (1/2" * 16")  source "a handbook, table 3"
    g23  =  (round_up((-2.5 plf), to: 39.5 plf) + (g13 of (-6.5 plf)))
    g24 "Label g24"  =  t20(k0: 8.9 psf, k1: 3.7 psf)  source "a handbook, table 3"
        "What it is for."
    g25  =  round_even(shorter(rate_3, rate_3), to: $18.72)  source practice
    labor i26 code "L-BRD" need (t20(k0: 3.4 psf, k1: 4.7 psf) + (g12 + 2))
end
for job
end
example "case 26"
    shows (shorter((7.5 psf when no, 1.2 psf otherwise), (8.3 psf * 8.125))) = 5.9 psf
    shows (round_down(($0.96/m when yes, $36.42/CLF otherwise), to: $12.73/MLF)) = $18.36/MLF
    shows (longer(((($25.54/CLF * 8'-6") / (21 sf / 18")) * longer((1/2" when no, 16" otherwise), 8½")), $36.13)) = $20.51
end

==== layer 2
book "Book 2"  edition "9"
use "layer 0"
use "layer 1"
define d27(p0 number, p1 weight otherwise 12 lb) plf  =  (((1.8 psf - 7.7 psf) when (23.5 plf is given), longer((7.3 psf + 6.4 psf), (2.7 psf when no, 7.1 psf otherwise)) otherwise) * (36 sqm / 8'-6"))  source practice
define d28(p0 length, p1 weight, p2 text) count  =  ((3 * 1) + round_up(p0 / p0)) when (not (p2 is one of regular rated)), ((0 * 0) when (p2 is one of regular rated), (0 * 1) otherwise) when (21 hr is given), (round_up(35.125) * round_up(14)) otherwise  source practice
table t29 "A table"  source practice
    k0 text, exact | k1hrcount, from | k2 number, between | got weight
    regular | 1 | 1 | 18 lb
    rated | 2 | 2 | 5 lb
    A | 3 | 3 | 18 lb
    B | 4 | 4 | 19 lb
end
for rooms
    replace g21 "Label g21"  =  ((1 when yes, 4 otherwise) * round_up(18" / 10'-3 1/2")) when (not (not yes)), (round_up(35.125) + (f5 * f5)) when ((no or no) or ("A" is "north")), (round_up(4 ft / 600 mm) * round_up(28.125)) when ((8'-6" is not 4 ft) and yes), f5 otherwise
    g30 "Label g30"  =  g13 when ("moisture" is "grid"), (g13 when (not yes), g13 otherwise) otherwise
    replace labor i16 code "L-BRD" need round_up(((g22 - g22) / (8'-6" * 23)) / round_even((g22 / 16"), to: 8'-6")) rate 0.04 hr/ea only when ((not (2.7 psf is given)) when (g22 is given), ((no and yes) when ("moisture" is one of regular rated A B), (g24 < g24) otherwise) otherwise)
end
for job
    j2_0 "Figure 0"  =  5% of sum of lines (cost)
end
example "case 30"
    shows g12 = 4
end
example "case 30"
    shows (d18(p0: (square_root((10 + 35)) + ((36 sf / 8½") / (24" + 5/8"))))) = 37 hr
end

==== 
book "Book 3"  edition "2"
use "layer 0"
use "layer 1"
use "layer 2"
define d31(p0 date, p1 money otherwise $28.34, p2 money, p3 hours otherwise 24 hr) date  =  2026-03-01 when (d19(p0: 18", p1: "north", p2: 8.5 plf, p3: 8.5 psf) is not ($22.03 - p1)), 2024-02-29 otherwise
        "What it is for."
for rooms
    g32 "Label g32"  =  (-shorter(((g25 / 1/2") / (-g10)), (shorter(f2, f1) - (rate_3 / 5/8"))))
    g33  =  d31(p0: f4, p2: (($31.51 / 10'-3 1/2") * (8½" * g10)), p3: (10% of (f6 / g9)))  source "a handbook, table 3"
        "What it is for."
    check c34 (g21 < 3) else stops
    check c35 (not yes) else warns
    item i36 "Thing i36" code "AN" need ((g13 of shorter(37 lb, 25 lb)) + ((9.6 psf * 8'-6") * (15 CSF / 4 ft))) waste 100%
end
for job
    j3_0 "Figure 0"  =  ($11.50/m * 24")
    j3_1 "Figure 1"  =  sum of lines (cost) where kind is material
    j3_2 "Figure 2"  =  count of rooms
end
example "case 36"
    shows (5%) = 0%
end
example "case 36"
    rooms  id "0"  f1 $34.50/ft  f2 $13.47/m  rate_3 $18.26  f4 2024-02-29  f6 7 hr
    shows (round_up((36) ^ 6) when (27 sqm is given), (round_up(10'-3 1/2" / 24") + (0 + 4)) when (("free" is one of regular rated) and (not no)), round_up(round_up(22, to: 32.125)) otherwise) = 4
end
example "case 36"
    rooms  id "0"  f1 $0.14/m  f2 $14.12/MLF  rate_3 $10.39  f4 2026-03-01  f5 4  f6 36 hr
    rooms  id "1"  f1 $33.36/ft  f2 $$99999999999999.99/CLF  rate_3 $15.32  f4 2026-03-01  f5 2  f6 10 hr
    shows (((round_up(37 CSF, to: 34 sf) - (5/8" * 24")) - round_down((12 CSF * 0.25), to: 39 sf))) = 33 sqm
    shows (round_even(9.5 psf, to: 8.2 psf)) = 3.7 psf
    shows ("moisture") = "north"
end
