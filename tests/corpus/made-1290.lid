==== layer 0
book "Book 0"  edition "9"
rows rooms  from "Rooms"
    id text key
    f1 yes/no
    f2 psf  at least 4.0 psf  otherwise 5.3 psf
    f3 percent
    f4 money  heading "Heading 4" or "H4"  above $31.45
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 money  at least $30.23  otherwise $39.23
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f6 plf  heading "Heading 6" or "H6"
    f7 hours
    f8 date  heading "Heading 8" or "H8"
    rate_9 hours  heading "Heading 9" or "H9"
    f10 percent  heading "Heading 10" or "H10"  may be blank
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f11 money  from $7.92 to $23.42  may be blank
    f12 text
    f13 psf  at least 1.0 psf  otherwise 0.0 psf
    f14 money  at least $25.95  otherwise $6.34
    f15 area  heading "Heading 15" or "H15"  at least 3 sf
    f16 plf  otherwise 3.5 plf
    f17 percent  may be blank
end
define d18(p0 money, p1 plf, p2 psf, p3 percent otherwise 100%) hours  =  shorter(6 hr, 9 hr) when (16" is given), ((-38 hr) + (14 hr * 5000)) when ((-1/2") is not (-1/2")), shorter(1 hr, 20 hr) when (2026-03-01 > 2026-03-01), (23 hr / 2000) when ((10 sf + 10 CSF) < (20 sqm when no, 16 sqm otherwise)), 11 hr otherwise
define height_19(p0 count) money  =  ($11.16 * 5.5)
define d20(p0 length) psf  =  (10% of 3.3 psf)
table t21 "A table"  source practice
    k0 text, exact | k1 text, exact | k2 number, exact | got number
    regular | rated | 1 | 13.5
    rated | A | 2 | 19.5
    A | B | 3 | 22000
    B | grid | 4 | 6000
    grid | free | 5 | 37.5
    free | moisture | 6 | 31.125
end
table t22 "A table"  source practice
    k0 text, exact | k1 text, exact | got count
    regular | rated | 3
    rated | A | 4
end
for openings
    g23  =  longer(3.0 psf, f2)
    g24  =  (longer(7 hr, 33 hr) / (least of cuts (32)))  source practice
    g25 "Label g25"  =  round_up(((least of cuts ((f17 when yes, f17 otherwise)) where (f12 is "B")) of t21(k0: "north", k1: "free", k2: (24" / 24"))), to: 19.25)  source practice
    g26 "Label g26"  =  ((g25) ^ 3 * (21.25 when f1, g25 otherwise)) when ((f1 or f1) or (f1 or yes)), ((10'-3 1/2" + 10'-3 1/2") / (least of cuts (8'-6"))) otherwise
    g27 "Label g27"  =  (25 lb * g25)  source "a handbook, table 3"
    g28 "Label g28"  =  "rated"  source "a handbook, table 3"  accepted "as it is"
    check c29 ((any of cuts ((yes or yes))) when (g28 is one of regular rated A B), (any of cuts ((not no))) otherwise) else stops
        "It is {g28}."
    labor i30 code "L-BRD" need round_up((least of cuts ((f17 of 8'-6"))) / (least of cuts ((5/8" when no, 8'-6" otherwise)))) rate 0.06 hr/ea
end
for bays
    g31 "Label g31"  =  t22(k0: "regular", k1: "A") when (not f1), 2 when no, 4 when yes, 3 when no, 0 otherwise
    g32  =  (36 lb - 40 lb)  source practice
    g33 "Label g33"  =  round_up(f4, to: $4.07)
    g34  =  (-4 ft)
    g35  =  (f10 when f1, f10 otherwise)  source "a handbook, table 3"
    g36  =  (f1 and f1)
        "What it is for."
    check c37 ("regular" is "grid") else warns
    item i38 "Thing i38" code "HW" need (((g34 * 4 ft) / shorter(g34, g34)) when ((22 CSF = 4 sf) when (33.125 < 1.125), ("A" is one of regular) otherwise), round_down((10 sf / g34), to: 8½") when ((g34 >= g34) or f1), 4 ft when no, g34 when g36, g34 otherwise)
end
for cuts
    check c39 (f12 is "free") else notes
    item i40 "Thing i40" code "XX" need longer((f15 / 5/8"), (4 ft - 10'-3 1/2"))
    labor i41 code "L-BRD" need (t22(k0: f12, k1: f12) + t22(k0: f12, k1: f12)) rate 0.02 hr/ea waste 5% only when (no and yes)
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1", way_2 "Way way_2"
    g42  =  t22(k0: "north", k1: "moisture")  source "a handbook, table 3"  accepted "as it is"
    g43  =  round_up(((16" / 21.125) - (f3 of 8'-6")) / (longer(11 CSF, 25 sf) / (-12')))  source practice
    g44 "Label g44"  =  34 hr  source practice
    check c45 ((4 < g43) or (not f1)) else notes
        "It is {g44}."
end
for job
    j0_0 "Figure 0"  =  height_19(p0: round_up((35.25 * 36.25)))
end

==== 
book "Book 1"  edition "7"
use "layer 0"
for openings
    g46  =  ((($31.93/CLF + $25.97/CLF) * shorter(g26, g25)) * (sum of cuts (2.4 m)))
    replace g24 "Label g24"  =  shorter(0 hr, 26 hr)  source "a handbook, table 3"
    replace g23 "Label g23"  =  d20(p0: (30 CSF / 600 mm))
    replace g25  =  round_near(((6.125 + 35.25) / square_root(26000)), to: 11.125)
        "What it is for."
    check c47 ("A" is "B") else notes
        "It is {g46}."
    check c48 ((g28 is one of regular rated A) and ((2024-02-29 = 2026-03-01) or (f1 when no, f1 otherwise))) else notes
        "It is {g46}."
    labor i49 code "L-BRD" need ((-(-24")) when ((f1 when no, f1 otherwise) when (not yes), (not yes) otherwise), (round_up(600 mm, to: 8'-6") - longer(5/8", 18")) when ((way is way_1) when (not f1), (g28 is one of regular rated A) otherwise), (f3 of (2.4 m when no, 18" otherwise)) when ((most of cuts (f11)) <= shorter(f5, g46)), (-longer(12', 16")) otherwise)
    item i50 code "GB" cut round_up(shorter(longer((34 sqm / 1/2"), (1 CSF / 10'-3 1/2")), ((12' / g25) when (yes and f1), (1/2" + 10'-3 1/2") otherwise)) / (((17 sf / 16") * longer(24", 600 mm)) / (f3 of (31 sf / 600 mm)))), each ((least of cuts ((-12')) where (yes when no, yes otherwise)) when (way is way_0), ((37 sqm - 9 sqm) / (40 sqm / 2.4 m)) when (g28 is one of regular), shorter((sum of cuts (18")), longer(8½", 2.4 m)) when ((f1 or f1) or ("moisture" is one of regular rated A)), ((31 sf * g26) / (31 sf / 12')) when (not (f5 >= f4)), ((12 sf / 8'-6") - (1/2" - 16")) otherwise)
    item i51 "Thing i51" code "HW" need (5% of ((sum of cuts (f15)) / (5/8" / g25)))
end
for bays
    g52 "Label g52"  =  (((7.5% of round_up(g33, to: $21.91)) - ((f3 of f4) + ($6.73/MLF * g34))) / longer(((32 CSF / g34) * 9.125), 8½"))
end
for cuts
    g53  =  (round_even(f13, to: 6.5 psf) / round_near(22.25, to: 17.5)) when ((12 is given) or (8'-6" > 600 mm)), shorter(round_even(f13, to: 1.1 psf), (f13 * 12000)) when ((3 >= 3) when (no and no), (3 = 1) otherwise), d20(p0: (-600 mm)) when (f12 is "A"), longer((f13 - 0.6 psf), f13) otherwise
    g54  =  (($7.08 / 1/2") * (16" - 600 mm)) when (way is way_2), (10% of (f14 when no, $39.25 otherwise)) when no, $31.97 otherwise  source practice
    g55 "Label g55"  =  ((((24" when yes, 8'-6" otherwise) when (yes or yes), round_near(18", to: 10'-3 1/2") otherwise) * square_root((7.5% of 1000))) / 12')
    g56  =  ((way is way_0) when (yes and yes), (0 >= 2) otherwise)
    g57  =  ((4 lb when yes, 20 lb otherwise) - shorter(17 lb, 11 lb)) when ((7 sf <= f15) or ("B" is "moisture")), ((f16 * g55) * (24" + 600 mm)) when (way is way_1), (round_down(9 lb, to: 14 lb) * (g55 + 15.125)) when (no and g56), 15 lb when g56, 33 lb otherwise
    check c58 (f12 is "grid") else stops
    check c59 (g28 is "moisture") else notes
        "It is {g57}."
    item i60 "Thing i60" code "HW" need (longer(shorter((33 sf - f15), (8½" * 8'-6")), (-(f17 of f15))) / (longer(round_down(10'-3 1/2", to: 8½"), (-5/8")) * round_down(g55, to: 12000)))
    replace labor i40 code "L-BRD" need round_up(1/2" / 12') rate 0.02 hr/ea waste 10%
end
for rooms
    replace g43 "Label g43"  =  t22(k0: "north", k1: "A") when ((f2 is given) or (f4 <= f4)), t22(k0: "free", k1: "rated") otherwise
    check c61 ((("moisture" is "free") when (way is way_0), ("B" is one of regular rated) otherwise) when ((yes when f1, f1 otherwise) when (f1 when f1, f1 otherwise), (f1 and f1) otherwise), (round_near(f4, to: $16.97) >= (f4 - f4)) otherwise) else warns
        "It is {g44}."
    check c62 (way is way_0) else notes
    item i63 "Thing i63" code "GB" need (1 * g42) waste 7.5%
end
