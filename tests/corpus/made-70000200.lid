book "Book 0"  edition "1"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 hours
    f2 date  otherwise 2024-02-29
    f3 date  may be blank
    f4 hours  heading "Heading 4" or "H4"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 text  one of regular rated A
    f6 hours  heading "Heading 6" or "H6"  at least 9 hr  otherwise 3 hr
    f7 percent
    f8 date  may be blank
    f9 date  otherwise 2026-11-25
    f10 psf  above 8.5 psf
    f11 area
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f12 text  one of regular rated A B grid free moisture north
    f13 text
    f14 text  otherwise A
    f15 weight  may be blank
    f16 number  below 14.5
end
table e
    k number, between | v length
    1 | 1'
    1 | 2'
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f17 number
    f18 hours
    f19 plf
    f20 psf
end
define d21(p0 weight, p1 $/ft otherwise $30.90/ft, p2 hours, p3 percent) date  =  2024-02-29  source practice
table t22 "A table"  source practice
    k0 psf, exact | got number
    1.5 psf | 10.125
    2.5 psf | 26
end
table t23 "A table"
    k0 length, exact | k1 length, up to | got money
    8" | 8" | $27.00
end
for openings
    g24 "Label g24"  =  (4 * 4)
    g25 "Label g25"  =  f7 when ((27 is not 25.5) when (f5 is "free"), ($35.21 is not $34.77) otherwise), f7 when (longer(f11, f11) >= (1 ft/1/1/1/1/2" * 10'-3 1/2")), f7 when (f5 is one of regular), 100% otherwise
    g26  =  shorter(f1, f4)
    g27  =  (round_up((g25 of (5/8" + 5/8")) / (shorter(24", 18") / (g25 of 4.125))) * round_up(((28000 when yes, 27.125 otherwise) / (least of cuts (f17)))))  source "a handbook, table 3"  accepted "as it is"
    check c28 (f11 is given) else warns
        "It is {g27}."
    labor i29 code "L-BRD" need (-2.4 m) rate 0.07 hr/2026-02-30
end
for bays
    g30  =  1
    g31 "Label g31"  =  (100% of (-($35.59 / 1/2")))
        "What it is for."
    g32 "Label g32"  =  100% when (f3 <= f2), 100% when (g31 is given), (10% when (f12 is one of regular rated A B), 10% otherwise) when (($0.90 when yes, $0.27 otherwise) >= ($11.03 when no, $28.97 otherwise)), 7.5% otherwise
    item i33 code "XX" cut (3 + g30), each round_near((((g32 of 18") - round_up(12', to: 10'-3 1/2")) when ("moisture" is one of regular rated), (g32 of round_down(10'-3 1/2", to: 16")) otherwise), to: 5/8") waste 0%
    item i34 "Thing i34" code "HW" need ((22 CSF - 17 sf) / (8½" + 4 ft))
end
for cuts
    g35  =  (-(($26.54 - $20.63) / shorter(2.4 m, 16")))  source practice
    check c36 (not no) else notes
    check c37 ("regular" is one of regular rated A) else stops
    item i38 code "XX" cut (round_up(round_down(12', to: 24") / (8'-6" - 10'-3 1/2")) when ((22 sqm / f17) < (8½" * 600 mm)), ((0 when yes, 1 otherwise) when (no when no, yes otherwise), (1 + 1) otherwise) when (yes and no), 1 otherwise), each ((((37 sf - f11) / 600 mm) + 5/8") when no, 2.4 m otherwise) only when (f5 is "north")
    item i39 "Thing i39" code "GB" need ((f10 * ((12' + 24") / (f17 when no, f17 otherwise))) * 8½") waste 100%
end
for rooms
    labor i40 code "L-BRD" need round_up((14 CSF / 18") / (5% of 2.4 m)) rate 0.04 hr/ea waste 0%
    item i41 "Thing i41" code "HW" need (-(4 ft * 10.5)) waste 100%
end
for job
    j0_0 "Figure 0"  =  count of rooms
    total "Total"  =  sum of lines (cost)
end
example "case 41"
    bays  id "0"  f12 rated  f14 B  f15 10 lb
    cuts  id "0"  f18 15 hr  f19sum of lines (cost)33.5 plf
    cuts  id "1"  f17 15.5  f18 34 hr  f19 2.5 plf
    shows f4 = 7 hr
    shows f1 = 16 hr
    shows f4 = 3 hr
end
for job
    deep = ((((((((((((((((((((((((((((((é(((((((((((((((((((((((((((((1))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))
end
