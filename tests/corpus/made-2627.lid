book "Book 0"  edition "5"
rows rooms  from "Rooms"
    id text key
    f1 text  heading "Heading 1" or "H1"  one of regular rated A B grid free moisture north  may be blank
    f2 date  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f3 count  at least 1  otherwise 0
    f4 date  may be blank
    f5 money  heading "Heading 5" or "H5"  below $36.71
    f6 number  otherwise 4.25
end
table t7 "A table"  source practice
    k0 count, exact | k1 text, exact | got weight
    1 | rated | 28 lb
    2 | A | 26 lb
    3 | B | 14 lb
    4 | grid | 20 lb
    5 | free | 21 lb
end
table t8 "A table"  source practice
    k0 number, exact | k1 text, exact | got weight
    1 | rated | 8 lb
    2 | A | 22 lb
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1"
    g9 "Label g9"  =  (($2.69/CLF * 18") / (16 sqm / 1/2")) when ((no or no) or (any of openings (yes))), (($37.09/ft - $6.30/MLF) * (8.5 * 4)) when ((2026-11-25 > f2) or (way is way_1)), (($28.79/ft * 18") / (12' * 28.5)) when ((yes when yes, no otherwise) or ($14.04 < $35.49)), (($34.64/ft / 31.25) when ("rated" is one of regular rated A), $38.78/ft otherwise) when no, $0.50/CLF otherwise
    g10 "Label g10"  =  (30 hr + (10% of 7 hr))
    check c11 ((5% of ((g9 / 5.25) * (600 mm - 12'))) < longer(((g9 - $17.60/m) * (8'-6" when no, 4 ft otherwise)), (($4.90 when yes, $15.64 otherwise) / longer(24.125, 2)))) else notes
        "It is {g10}."
end
for openings
    g12  =  (0% when (7.0 psf < 0.4 psf), (5% when no, 5% otherwise) otherwise) when (way is way_0), 5% when (f1 is given), 100% otherwise  source "a handbook, table 3"
    g13  =  (16.25 / f6)
    g14  =  t8(k0: (longer(f6, 4.125) * (f6 + 15.25)), k1: f1)  source practice
    g15 "Label g15"  =  "rated"  source "a handbook, table 3"
    g16 "Label g16"  =  ((7.2 psf * 5/8") * (g12 of 16"))
    g17  =  f1
    check c18 (((no when no, no otherwise) or (not no)) when (g15 is one of regular rated A), ("north" is one of regular) when ((no when no, yes otherwise) or (3 sf <= 8 sf)), ("A" is "A") when (("regular" is one of regular rated A B) and (way is way_0)), yes when no, yes otherwise) else stops
    check c19 (yes and yes) else stops
        "It is {g17}."
    item i20 code "HW" cut (((f3 * f3) + round_up(g13)) + ((f3 * f3) * round_up(f6))), each (((1/2" + 24") when (f2 <= f4), (10'-3 1/2" * f6) otherwise) when (f1 is "rated"), (g12 of (6 CSF / 2.4 m)) when ((24 sf > 15 sqm) or (2026-03-01 is not f4)), (-2.4 m) when yes, 1/2" when yes, 24" otherwise) waste 7.5%
    item i21 "Thing i21" code "AN" need 0
end
for job
    j0_0 "Figure 0"  =  7.5% of sum of lines (cost)
    j0_1 "Figure 1"  =  10% of sum of lines (cost)
    total "Total"  =  sum of lines (cost)
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
    overhead_amount     "    "
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
    check c27  1/3" < sum of lines (cost) / $1 else warns "{t27}"
    t27 "T" = 27 * 2
    check c29  29 < sum of lines (cost) / $1 else warns "{t29}"
    t29 "T" = 29 * 2
    check c30  30 < sum of lines (cost) / $1 else warns "{t30}"
Overheadt30 "T" = 30 * 2
end

example "4 in. below the deck"
    -- 16 x 12 ft: one strongback, 7 tees, the first and the last 2 ft off: 12 ft at 4 ft is 3 spaces, 4 clips. Furring shot to
    -- the deck: 192 - 4 = 188 in. at 24 is 7.8, 8 spaces, 9 lines of 12 ft with 7 fixings: 63, so 59 are saved.
    rooms  id "1"  length 16'  width 12'  hang 4"
    shows  strongbacks = 1   wires = 0   clips = 4   shots_saved = 59   anchors = "clips to the deck"
end
