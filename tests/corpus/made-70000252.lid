==== layer 1
book "Book 1"  edition "9"
use "layer 0"
define d27(p0 date, p1 plf) money  =  ((7.5% of (round_up($20.36/m, to: $15.24/CLF) * (8½" - 1/2"))) / ((-round_even(11000, to: 18000)) / ((5% of 5000)) ^ 3))
        "What it is for."
table t28 "A table"
    k0 text, exact | got weight
    regular | 4 lb
    rated | 24 lb
    A | 27 lb
end
for openings
    g29 "Label g29"  =  ((round_near($37.25/CLF, to: $5.60/MLF) / (f2 * f2)) * (round_near(f10, to: 34 sf) / (-f1)))  source practice
    g30 "Label g30"  =  (f4 is given) when (not (4 = 4)), (f3 is given) otherwise
    check c31 (not ((round_even(f1, to: 5/8") / (f2 when f8, f2 otherwise)) is not ((f10 / 25.25) / (f1 + f1)))) else stops
        "It is {g30}."
    labor i32 code "L-BRD" need (1 + round_up((12 CSF / 18") / (f1 when f7, f1 otherwise))) rate 0.03 hr/ea waste 0%
    item i33 code "HW" cut (1 * 0), each ((0% of shorter(f10, f10)) / ((f1 + f1) + shorter(f1, f1)))
end
for bays
    check c34 ((round_up(f1 / f12) >= (g16 * 2)) when ((f5 / f2) <= longer($32.59, f5)), (not (yes and yes)) when ("grid" is "rated"), (not (not yes)) when ((10% of f5) < longer($13.53, f5)), ((not no) and (yes or yes)) otherwise) else notes
    replace item i19 "Thing i19" code "XX" need (round_up((longer(f2, f2) / (1000) ^ 0)) * (round_up((-f2)) * (round_up(f2) + (g16 + 1)))) waste 7.5%
    labor i35 code "L-BRD" need longer(14 CSF, 25 sqm) waste 5%
    item i36 "Thing i36" code "AN" need round_up(f2) only when ("regular" is one of regular rated A)
end
for rooms
    g37  =  round_up((f2 + f2)) when ("grid" is one of regular rated A B), (round_up(f1 / 1/2") * (4 when yes, 2 otherwise)) otherwise  source "a handbook, table 3"
        "What it is for."
    g38 "Label g38"  =  ((any of bays (((no or yes) when (g16 is given), (f3 <= 2.9 psf) otherwise))) or (shorter((-f5), t15(k0: f1, k1: f1)) < (longer(f5, $12.07) when (no or yes), (7.5% of $25.80) otherwise)))
    g39 "Label g39"  =  longer(shorter((f5 - f5), (f5 * f2)), ((f5 / f1) * (35 CSF / f1)))  source practice
    check c40 (f3 <= (0% of f3)) else notes
        "It is {g39}."
    check c41 ("north" is one of regular) else stops
    item i42 code "XX" cut 2, each ((sum of bays (longer(f1, f1))) when ((any of bays (yes)) when (all of openings (f7)), (no and no) otherwise), ((19 CSF * 28.25) / (f1 when yes, 600 mm otherwise)) when (longer(f1, f1) > longer(f1, f1)), shorter((38 CSF / f1), (21 sf / f1)) when g38, 600 mm otherwise)
    item i43 code "HW" cut (g37 * g37), each (((f1 when g38, f1 otherwise) when (any of openings (g30)), (f1 / g21) otherwise) when (round_up(12' / f1) is not g37), ((16 CSF / f1) when (yes and g38), (24" * g21) otherwise) when ((11 sf - 11 sf) is not longer(40 sf, 39 sf)), (7.5% of (25 sf / f1)) otherwise) waste 5%
end

==== layer 0
book "Book 0"  edition "5"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 length  may be blank
    f2 number  heading "Heading 2" or "H2"  from 0 to 1.5
    f3 psf  otherwise 8.2 psf
    f4 weight  may be blank
    f5 money  heading "Heading 5" or "H5"  below $29.37  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f6 weight  otherwise 17 lb
    f7 yes/no
    f8 yes/no  otherwise yes
    f9 psf
    f10 area  below 6 sqm
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f11 hours  above 5 hr
    f12 length  from 0' to 2.4 m  may be blank
    f13 weight  heading "Heading 13" or "H13"  from 0 lb to 33 lb
end
table t14 "A table"
    k0 psf, from | k1 text, exact | k2 text, exact | got count
    1.5 psf | rated | A | 1
end
table t15 "A table"  source practice
    k0 length, up to | k1 length, exact | got money
    8" | 8" | $26.09
end
for openings
end
for bays
    g16  =  0  source practice
    check c17 (("grid" is "grid") and ("north" is one of regular rated)) else notes
        "It is {g16}."
    check c18 ("A" is one of regular rated A B) else warns
        "It is {g16}."
    item i19 "Thing i19" code "XX" need (((0% of 2 sf) / longer(10'-3 1/2", f1)) when (not (f3 < f3)), ((f1 * f2) - (f12 when no, f1 otherwise)) when ((29 CSF / f2) < (f12 * f12)), ((25 sf / f1) when (yes or no), (7.5% of f12) otherwise) otherwise)
end
for rooms
    g20 "Label g20"  =  (longer(round_near(f5, to: $4.27), t15(k0: f1, k1: f1)) / ((least of openings (0%) where f7) of (27 sf / f1)))  source practice
    g21 "Label g21"  =  (((f2 - f2) when (not yes), (sum of bays (f2)) otherwise)) ^ -1  source "a handbook, table 3"
        "What it is for."
    check c22 (2026-03-01 > 2024-02-29) else stops
        "It is {g21}."
    check c23 ($2.87 > f5) else stops
    item i24 "Thing i24" code "GB" need (round_up(longer((-f2), shorter(f2, 3.125))) * round_up(((f2 when no, g21 otherwise) when (20 sqm >= 15 sqm), (f2 * g21) otherwise)))
    item i25 code "AN" cut ((count of bays where (($22.82/MLF * f12) is not ($33.27/ft * f1))) * t14(k0: round_near(f3, to: 0.4 psf), k1: "rated", k2: "north")), each (f1 when yes, f1 otherwise)
    item i26 code "GB" cut 0, each ((-((23 sqm / f1) * shorter(31.25, f2))) when ("rated" is "grid"), f1 otherwise) waste 5% only when ((not yes) or (any of bays (yes)))
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost) where kind is labor
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    j0_2 "Figure 2"  =  count of rooms
end
example "case 26"
    rooms  id "0"  f1 10'-3 1/2"  f2 37.125  f3 8.0 psf  f4 28 lb  f5 $13.12
    openings  id "0"  f6 8 lb  f7 no  f9 6.6 psf  f10 15 CSF
    bays  id "0"  f11 17 hr  f12 8'-6"  f13 34 lb
    shows f5 = $17.12
    shows (($20.86/m * 18")) = $4.39
    shows (10%) = 10%
end

==== 
book "Book 2"  edition "1"
use "layer 0"
use "layer 1"
define d44(p0 date, p1 area, p2 length, p3 number) length  =  (shorter(p1, p1) / (p2 when yes, p2 otherwise)) when ((2 + 1) = (4 * 1)), (round_near(p2, to: 600 mm) + (8'-6" + p2)) when ((no or yes) and ($21.22 >= $18.88)), ((p1 / 30.25) / (12' + 4 ft)) when ((yes and yes) or (3 >= 4)), ((p1 / 600 mm) when (28 CSF is given), shorter(p2, 5/8") otherwise) otherwise
table t45 "A table"  source practice
    k0 psf, exact | got weight
    1.5 psf | 30 lb
end
for openings
    item i46 code "GB" cut t14(k0: (((9.1 psf when f8, f9 otherwise) / shorter(33, f2)) when ("rated" is "A"), (-(f3 - 9.9 psf)) otherwise), k1: "B", k2: "north"), each (round_even((-f1), to: 10'-3 1/2") / (0% of (f2 / f2))) waste 10%
end
for bays
    g47  =  longer((f5 / f2), (f5 + f5)) when (("rated" is one of regular rated A) and (g16 is given)), ((f5 when no, f5 otherwise) + ($19.69 * f2)) when (round_up(f12 / f1) > round_up(f12 / f1)), d27(p0: 2026-11-25, p1: (f3 * f12)) otherwise  source practice
    replace g16  =  (t14(k0: (-round_near(2.3 psf, to: 6.9 psf)), k1: "grid", k2: "rated") + ((4 * 4) when yes, 2 otherwise))  source "a handbook, table 3"
    g48  =  (shorter((11.5 plf * f12), (f13 / f2)) - shorter((f13 * f2), (9 lb when yes, f13 otherwise)))
    g49  =  (((20 sf / f12) * (23 sf / f12)) when ((g16 < 2) and ("moisture" is "regular")), 32 sf otherwise)
    g50 "Label g50"  =  "moisture"  source "a handbook, table 3"
    check c51 ((2026-03-01 <= 2024-02-29) when (f3 < round_up(f3, to: 4.6 psf)), yes otherwise) else stops
        "It is {g50}."
    replace labor i35 code "L-BRD" need (((12' * 8.25) - (2.4 m - f12)) when ((g49 / f1) is not d44(p0: 2024-02-29, p1: 23 sf, p2: f1, p3: f2)), longer((0% of f12), (7.5% of f12)) when (("A" is given) and (f3 is not f3)), round_near((14 sf / f1), to: 12') when (g50 is one of regular), longer(round_down(f12, to: 1/2"), (g49 / f1)) when no, 4 ft otherwise) rate 0.07 hr/ft waste 100%
end
for rooms
    g52  =  "north"  source "a handbook, table 3"
    replace g37 "Label g37"  =  ((round_up(longer(f2, f2)) + t14(k0: (7.5% of f3), k1: ("B" when yes, "A" otherwise), k2: "free")) * (((3 * 3) when (1.1 psf < f3), (4 + 4) otherwise) * round_up((f2 / f2))))  source "a handbook, table 3"
    g53  =  (not ((f1 / g21) < (f1 - f1)))  accepted "as it is"
    item i54 "Thing i54" code "XX" need (g37 + t14(k0: (f3 - round_near(f3, to: 6.5 psf)), k1: g52, k2: g52))
end
for job
    j2_0 "Figure 0"  =  sum of lines (cost) where kind is labor
end
example "case 54"
    shows ((((13.5 < 38.125) and (6 sf is given)) or ("north" is "free"))) = yes
    shows (((22.5 plf when no, 18.5 plf otherwise) * (-5/8"))) = 26 lb
    shows (2026-03-01) = 2026-03-01
end
for job
    deep = shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1,  $/ft shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(999999999999999999999999999999999999999, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, 1))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))
end
