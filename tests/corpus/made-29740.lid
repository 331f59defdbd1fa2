book "Book 0"  edition "8"
use "hardlid loads"
units metric
rows rooms  from "Rooms"
    id text key
    f1 percent  at least 7.5%
    f2 number
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f3 area
    f4 count  at least 2  otherwise 2
    f5 yes/no  otherwise yes
    f6 money
    f7 psf  heading "Heading 7" or "H7"  from 8.2 psf to 7.5 psf
end
define d8(p0 weight, p1 text otherwise "B", p2 yes/no otherwise yes, p3 length) psf  =  ((100% of 9.0 psf) + (10% of 0.1 psf))  source practice
define d9(p0 yes/no) count  =  round_up((34.25 - 35.5))  source "a handbook, table 3"
define d10(p0 psf, p1 plf) area  =  round_up((7 sqm + 6 CSF), to: 26 CSF)
table t11 "A table"
    k0 number, exact | got money
    1 | $10.68
    2 | $2.25
end
for openings
    g12  =  round_near((shorter((-24"), (12' / f2)) - ((5/8" when f5, 16" otherwise) + 10'-3 1/2")), to: 8'-6")  source practice  accepted "as it is"
    g13 "Label g13"  =  round_down(10000, to: 24.25)
        "What it is for."
    check c14 (("regular" is "north") and (round_up(f6, to: $6.57) < (0% of f6))) else stops
    labor i15 code "L-BRD" need d9(p0: f5) rate 0.05 hr/ea
    item i16 "Thing i16" code "GB" need (f1 of ((4 sf when f5, f3 otherwise) * (g13 + f2))) only when ((-round_even(39000, to: 38)) > round_down(g13, to: 1.5))
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1"
    g17 "Label g17"  =  ("free" when ("grid" is one of regular rated A B), "rated" otherwise)
        "What it is for."
    g18 "Label g18"  =  round_down((10.5 plf + 2.5 plf), to: 2.5 plf)
    g19  =  (2026-11-25 when (no and yes), 2026-03-01 otherwise) when (9.0 psf is not round_near(2.0 psf, to: 5.4 psf)), 2024-02-29 when (($22.71 / f2) >= ($24.65 when no, $3.95 otherwise)), 2024-02-29 when (g17 is one of regular rated A), 2026-03-01 when (all of openings (("moisture" is one of regular))), (2026-03-01 when ($18.12 < $12.19), 2026-03-01 otherwise) otherwise  source "a handbook, table 3"
    item i20 "Thing i20" code "AN" need (round_up(8½" / 2.4 m) * d9(p0: no)) waste 10%
    item i21 "Thing i21" code "ST" need (((12' * 600 mm) + (4 ft * 600 mm)) / ((f2 when no, f2 otherwise)) ^ 0) waste 0%
end
example "case 21"
    rooms  id "0"  f1 10%  f2 6.25
    rooms  id "1"  f1 7.5%  f2 29000
    openings  id "0"  f3 21 sqm  f4 1  f5 no  f6 $35.12  f7 2.6 psf
    shows g19 = 2026-03-01
    shows (longer((-(longer(1/2", 8½") + (16" * 13))), (round_up(round_down(12', to: 24"), to: 2.4 m) - ((-1/2") - (26 CSF / 1/2"))))) = 16"
    shows ((-longer(29.5 plf, 3.5 plf)) when ("free" is "regular"), ((35.5 plf / 32.125) * (-39)) when (37 CSF is given), round_down((-21.5 plf), to: 4.5 plf) otherwise) = 29.5 plf
end
for job
    check c0  0 < sum of lines (cost) / $1 else warns "{t0}"
    t0 "T" = 0 * 2
    check c1  1 < sum of lines (cost) / $1 else warns "{t1}"
    t1 "T" = 1 * 2
    check c2  2 < sum of lines (cost) / $1 else warns "{t2}"
    t2 "T" = 2 * 2
    check c3  3 < sum of lines (cost) / $1 else warns "{t3}"
    t3 "T" = 3 * 2
    check c4  4 < sum of lines (cost) / $1 else warns "{t4}"
    t4 "T" = 4 * 2
    check c5  5 < sum of lines (cost) / $1 else warns "{t5}"
    t5 "T" = 5 * 2
    check c6  6 < sum of lines (cost) / $1 else warns "{t6}"
    t6 "T" = 6 * 2
    check c7  7 < sum of lines (cost) / $1 else warns "{t7}"
    t7 "T" = 7 * 2
    check c8  8 < sum of lines (cost) / $1 else warns "{t8}"
    t8 "T" = 8 * 2
    check c9  9 < sum of lines (cost) / $1 else warns "{t9}"
    t9 "T" = 9 * 2
    check c10  10 < sum of lines (cost) / $1 else warns "{t10}"
    t10 "T" = 10 * 2
    check c11  11 < sum of lines (cost) / $1 else warns "{t11}"
    t11 "T" = 11 * 2
    check c12  12 < sum of lines (cost) / $1 else warns "{t12}"
    t12 "T" = 12 * 2
    check c13  13 < sum of lines (cost) / $1 else warns "{t13}"
    t13 "T" = 13 * 2
    check c14  14 < sum of lines (cost) / $1 else warns "{t14}"
    t14 "T" = 14 * 2
    check c15  15 < sum of lines (cost) / $1 else warns "{t15}"
    t15 "T" = 15 * 2
    check c16  16 < sum of lines (cost) / $1 else warns "{t16}"
    t16 "T" = 16 * 2
    check c17  17 < sum of lines (cost) / $1 else warns "{t17}"
    t17 "T" = 17 * 2
    check c18  18 < sum of lines (cost) / $1 else warns "{t18}"
    t18 "T" = 18 * 2
    check c19  19 < sum of lines (cost) / $1 else warns "{t19}"
    t19 "T" = 19 * 2
    check c20  20 < sum of lines (cost) / $1 else warns "{t20}"
    t20 "T" = 20 * 2
    check c21  21 < sum of lines (cost) / $1 else warns "{t21}"
    t21 "T" = 21 * 2
    check c22  22 < sum of lines (cost) / $1 else warns "{t22}"
    t22 "T" = 22 * 2
    check c23  23 < sum of lines (cost) / $1 else warns "{t23}"
    t23 "T" = 23 * 2
    check c24  24 < sum of lines (cost) / $1 else warns "{t24}"
    t24 "T" = 24 * 2
    check c25  25 < sum of lines (cost) / $1 else warns "{t25}"
    t25 "T" = 25 * 2
    check c26  26 < sum of lines (cost) / $1 else warns "{t26}"
    t26 "T" = 26 * 2
    check c27  27 < sum of lines (cost) / $1 else warns "{t27}"
    t27 "T" = 27 * 2
    check c28  28 < sum of lines (cost) / $1 else warns "{t28}"
    t28 "T" = 28 * 2
    check c29  29 < sum of lines (cost) / $1 else warns "{t29}"
    t29 "T" = 29 * 2
    check c30  30 < sum of lines (cost) / $1 else warns "{t30}"
    t30 "T" = 30 * 2
    check c31  31 < sum of lines (cost) / $1 else warns "{t31}"
    t31 "T" = 31 * 2
    check c32  32 < sum of lines (cost) / $1 else warns "{t32}"
    t32 "T" = 32 * 2
end
