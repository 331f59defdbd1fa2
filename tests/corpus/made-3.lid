==== layer 0
book "Book 0"  edition "8"
use "hardlid trade"
units metric
rows rooms  from "Rooms"
    id text key
    f1 percent  heading "Heading 1" or "H1"
    f2 count  may be blank
    f3 hours  at least 32 hr
    f4 hours
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 $/ft  heading "Heading 5" or "H5"
    f6 length
    f7 yes/no
    f8 money
    f9 money
    f10 hours  otherwise 36 hr
    f11 money
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f12 weight  heading "Heading 12" or "H12"
    f13 yes/no
    f14 percent
    f15 count  heading "Heading 15" or "H15"  otherwise 1
    f16 number  otherwise 5.25
    rate_17 plf  above 6.5 plf
    f18 hours
end
define d19(p0 psf,)p1 count) number  =  shorter((round_near((12' when no, 5/8" otherwise), to: 600 mm) / ((20 sqm * 24.25) / (37 sqm / 10'-3 1/2"))), (-(longer(24", 600 mm) / (9 sf / 600 mm))))
define d20(p0 date, p1 area otherwise 25 sf, p2 hours, p3 length otherwise 4 ft) percent  =  100% when (23.5 plf is given), 7.5% when (not ("A" is "A")), 7.5% otherwise
table t21 "A table"
    k0 number, up to | k1 text, exact | got money
    1 | rated | $37.03
    2 | A | $31.73
    3 | B | $24.98
    4 | grid | $13.39
end
table t22 "A table"  source practice
    k0 length, exact | k1 psf, up to | got number
    8" | 1.5 psf | 23000
    16" | 2.5 psf | 14000
    24" | 3.5 psf | 28000
    32" | 4.5 psf | 1.25
    40" | 5.5 psf | 12.5
    48" | 6.5 psf | 11.5
end
for openings
    g23 "Label g23"  =  (11 hr is given) when ((26.125 = 23.125) or ("rated" is one of regular rated A B)), ("free" is "free") when f7, f7 when yes, f7 when f7, f7 otherwise
    check c24 (((f1 of 5.0 psf) = 9.4 psf) when ("north" is "A"), (f5 is given) when (8'-6" is given), ("north" is one of regular rated A B) when (not (8.2 psf <= 9.2 psf)), ((g23 when f7, f7 otherwise) when (not g23), ("moisture" is "A") otherwise) otherwise) else warns
end
for bays
    g25 "Label g25"  =  (round_up(16" / 12') when ("moisture" is one of regular), (2 when f13, f2 otherwise) otherwise) when ("B" is "grid"), round_up((2 sf / 12'  / (-24")) when ((2024-02-29 = 2026-03-01) or (no when f13, f13 otherwise)), round_up((8½" when f13, 18" otherwise) / (18 sf / 8'-6")) when ((16" > 600 mm) and ("regular" is "A")), (round_up(8½" / 8½") + (3 * f2)) otherwise
        "What it is for."
    g26  =  f3
    g27 "Label g27"  =($25.82/MLF * 12')
        "What it is for."
    check c28 (((5.8 psf + 9.3 psf) <= shorter(5.6 psf, 1.4 psf)) and (not ($6.65 >= g27))) else notes
        "It is {g27}."
end
for rooms
    g29 "Label g29"  =  "regular"
    g30 "Label g30"  =  g29 when (any of openings ((f2 > 3))), g29 when (not (any of bays (f13))), g29 when (not (g29 is one of regular rated A)), g29 otherwise
    g31 "Label g31"  =  f1  source "a handbook, table 3"
    g32 "Label g32"  =  ((most of openings ((37 lb + 19 lb)) where (f7 and f7)) when ((no when no, no otherwise) or (3 sqm <= 11 sf)), ((13 lb + 9 lb) when (0.1 psf is not 4.6 psf), (27.5 plf * 10'-3 1/2") otherwise) otherwise)
    labor i33 code "L-BRD" need ((round_down(8'-6", to: 600 mm) / (28.25 / 8)) / (f1 of d19(p0: 7.3 psf, p1: 2))) waste 100%
    item i34 code "ST" cut ((0 when no, f2 otherwise) + (4 + f2)), each (-(10'-3 1/2" when no, 12' otherwise))
end

==== 
book "Book 1"  edition "2"
use "layer 0"
define d35(p0 date, p1 text otherwise "moisture") length  =  (0% of (8½" + 8'-6"))
for rooms
    g36 "Label g36"  =  round_up((($26.15 * 18000) + ($37.11/MLF * 16")), to: $0.58)
    replace g29 "Label g29"  =  "moisture"
        "What it is for."
    g37 "Label g37"  =  ((-round_even((5% of 3.4 psf), to: 2.0 psf)) * round_near(((24.5 / 0.5) / 14000), to: 5.125))  source "a handbook, table 3"
        "What it is for."
    replace g32 "Label g32"  =  (39.5 plf * 4 ft)  source practice
    g38 "Label g38"  =  "moisture" when (round_up(8½" / 18") < (2 + 2)), g30 when (any of bays ((8½" = 4 ft))), g29 when ((most of bays (15 sf)) >= (36 sqm - 35 CSF)), g29 when (round_up(1/2" / 1/2") < round_up(1.5)), g29 otherwise  source practice
    check c39 ((round_up(shorter(16", 12') / (5/8" / 14)) + f2) < round_up(((sum of bays (f16)) - d19(p0: 3.0 psf, p1: f2)))) else notes
        "It is {g38}."
    item i40 "Thing i40" code "AN" need shorter((most of bays (f12) where no), (g32 * 22)) only when (not (no when yes, no otherwise))
    replace item i33 code "XX" cut (((count of openings) * (f2 + f2)) when ((sum of bays (24 sf)) > (1/2" * 4 ft)), f2 when ((f2 is not f2) and (2026-03-01 > 2024-02-29)), (round_up(10'-3 1/2" / 12') + 3) when (all of bays ((f13 and f13))), f2 when (g29 is one of regular rated), f2 otherwise), each ((sum of bays (shorter(16", 5/8"))) when ((4 ft * 2.4 m) is not round_down(24 sqm, to: 23 sf)), ((2.4 m + 24") - (33 sf / 8'-6")) otherwise)
end
for bays
    g41 "Label g41"  =  (5% of $29.47/ft)  source "a handbook, table 3"
    g42  =  (round_up(longer(8½", 10'-3 1/2") / (-4 ft)) + (round_up(f16 + f2))
    replace g27  =  (round_down($0.05, to: $33.93) + ($3.90 when yes, $0.58 otherwise)) when ((f15 < f15) and (14 sf is not 38 sqm)), shorter((f14 of $39.92), (-$19.49)) when (not (f13 when no, f13 otherwise)), $14.73 when yes, $21.96 when f13, $12.73 otherwise
    item sum_43 "Thing sum_43" code "ST" need (-(-(round_up(rate_17, to: 30.5 plf) * (18" / f16)))) only when (longer(((-$4.75/CLF) * (12' * f16)), (shorter(g27, $15.33) * (f14 of f16))) = (t21(k0: longer(f16, f16), k1: "moisture") + (($6.99/MLF / 24) * (35 sqm / 16"))))
    item i44 "Thing i44" code "XX" need (f15 when ((f13 when f13, f13 otherwise) or ($15.61 < g27)), ((4 when f13, 1 otherwise) + round_up(18" / 16")) when (not ("rated" is "B")), round_up((-f16)) when (not (no or yes)), ((g25* g42) * g42) otherwise)
    labor i45 code "L-BRD" need (-((27 sf + 28 sf) when (f13 when f13, f13 otherwise), (27 sf - 21 sf) otherwise)) rate 0.09 hr/sf
end
for openings
    g46  =  shorter((14.125 when yes, 12 otherwise), square_root(20000))  source practice
    replace g23  =  (("B" is "north") and (((yes and f7) and ("A" is "B")) and (2024-02-29 > 2026-03-01)))
    g47  =  longer(round_near(38, to: 10000), (36) ^ 6)  source practice
    check c48 (((2 sf + 4 sf) is not longer(18 sf, 35 sqm)) when (5.0 psf is given), (f2 is given) when ("B" is one of regular rated A B), ("free" is "north") when (not (f7 and g23)), ((g47 > g47) and (not f7)) otherwise) else warns
        "It is {g47}."
    labor i49 code "L-BRD" need round_up((d35(p0: (2024-02-29 when g23, 2026-11-25 otherwise)) / shorter(d19(p0: 5.2 psf, p1: f2), (g46 / g46))) / (longer((f6 / 39000), (f6 * g47)) / ((-3.125) - (-g46)))) rate 0.09 hr/ea
end
for job
    j1_0 "Figure 0"  =  count of rooms
end
example "case 49"
    shows ((round_up(3.125) + (3 + 3)) when ("A" is "free"), ((2 * 3) + round_up(7.5)) when ((-6.7 psf) <= (9.5 psf / 37.25)), 1 when (($26.25 = $5.72) or yes), 1 when no, 4 otherwise) = 2
    shows (($36.16 * 5.5)) = $26.85
    shows (((0% of 26.5 plf) when (0 is given), (0% of 30.5 plf) otherwise)) = 4.5 plf
end
example "case 49"
    shows ((-(38 hr - 6 hr))) = 0 hr
end
