book "Book 0"  edition "1"
use "hardlid ceilings"
define d1(p0 count, p1 date otherwise 2026-03-01) length  =  (-longer(18", 8'-6")) when (31 CSF is given), ((0% of 1/2") - longer(1/2", 16")) when (p1 <= p1), longer((1/2" when yes, 16" otherwise), longer(24", 24")) otherwise
table t2 "A table"  source practice
    k0 length, from | k1 text, exact | k2 text, exact | got length
    8" | rated | A | 10'-3 1/2"
    16" | A | B | 2.4 m
    24" | B | grid | 8'-6"
end
for rooms
    own3_area "Own area"  =  length * width
    own3_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 12' width 8' sdc B
    shows width = 8'
end
example "case 3"
    shows (((7.5% when yes, 5% otherwise) of (4.5 plf * 8'-6"))) = 35 lb
    shows ("rated") = "B"
end
example "case 3"
    shows (("north" when (("A" is "grid") or ((yes and yes) or (3 lb is given))), "moisture" otherwise)) = "B"
    shows ("regular") = "regular"
end
for job
    twice_0 = 1
    twice_1 = twice_0 + twice_0
    twice_2 = twice_1 + twice_1
    twice_3 = twice_2 + twice_2
    twice_4 = twice_3 + twice_3
    twice_5 = twice_4 + twice_4
    twice_6 = twice_5 + twice_5
    twice_7 = twice_6 + twice_6
    twice_8 = twice_7 + twice_7
    twice_9 = twice_8 + twice_8
    twice_10 = twice_9 + twice_9
    twice_11 = twice_10 + twice_10
    twice_12 = twice_11 + twice_11
    twice_13 = twice_12 + twice_12
    twice_14 = twice_13 + twice_13
    twice_15 = twice_14 + twice_14
    twice_16 = twice_15 + twice_15
    twice_17 = twice_16 + twice_16
    twice_18 = twice_17 + twice_17
    twice_19 = twice_18 + twice_18
    twice_20 = twice_19 + twice_19
    twice_21 = twice_20 + twice_20
    twice_22 = twice_21 + twice_21
    twice_23 = twice_22 + twice_22
    twice_24 = twice_23 + twice_23
    twice_25 = twice_24 + twice_24
    twice_26 = twice_25 + twice_25
    twice_27 = twice_26 + twice_26
    twice_28 = twice_27 + twice_27
    twice_29 = twice_28 + twice_28
    twice_30 = twice_29 + twice_29
end
