==== layer 0
book "Book 0"  edition "1"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 date  otherwise 2026-03-01
    f2 $/ft  otherwise $21.81/MLF
    f3 number  heading "Heading 3" or "H3"
    f4 count  otherwise 4
    f5 weight  at least 11 lb
    sum_6 hours  below 33 hr  may be blank
    f7 psf  from 0 psf to 6.5 psf
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f8 count  otherwise 2
    f9 percent  at least 0%
    f10 hours  from 0 hr to 28 hr
    f11 money
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f12 money  above $2.21
    f13 count  above 4
    f14 money  heading "Heading 14" or "H14"  below $4.40
    f15 hours  at least 14 hr  may be blank
    f16 hours  below 9 hr
end
define d17(p0 text, p1 weight, p2 length) count  =  round_up(shorter((100% of round_down(32000, to: 28.25)), shorter(longer(25.25, 9000), (p2 / 8'-6"))))
define d18(p0 percent, p1 date otherwise 2026-11-25) psf  =  ((p0 of 6.6 psf) when ("B" is "rated"), round_near(9.6 psf, to: 7.1 psf) otherwise)
        "What it is for."
define d19(p0 psf) weight  =  ((-5.5 plf) * shorter(5/8", 24"))  accepted "as it is"
        "What it is for."
table t20 "A table"  source practice
    k0 text, exact | got number
    regular | 27
    rated | 17.5
    A | 5
    B | 38.25
end
for openings
    g21 "Label g21"  =  (round_even(((f2 * 24") - round_down(f11, to: $35.48)), to: $22.08) / (30 CSF / 1/2"))
        "What it is for."
    g22 "Label g22"  =  ((10% of 33 sf) - (5/8" * 8'-6")) when (f3 is given), round_down((2.4 m * 4 ft), to: 13 CSF) when no, 17 sf when yes, 31 sqm when yes, 13 sqm otherwise  source practice  accepted "as it is"
    g23 "Label g23"  =  ((f9 of (-f3))) ^ 6
    g24  =  longer((f7 * 5/8"), (8.5 plf * f3))  source practice
    g25 "Label g25"  =  d18(p0: f9)
    check c26 (round_up((-(5% of 24")) / ((f9 of 7 CSF) / (g22 / 8½"))) is not round_up(square_root(t20(k0: "rated")))) else warns
        "It is {g25}."
end
for bays
    g27 "Label g27"  =  shorter(((7.5% of sum_6) + (-f16)), shorter((f16 when yes, sum_6 otherwise), (sum_6 * f3)))
    g28  =  ("north" is "B")  accepted "as it is"
    g29  =  (($27.22/m * 18") * longer(31, 1000))  accepted "as it is"
    g30 "Label g30"  =  shorter(shorter((2 sf / 10'-3 1/2"), (11 sqm / 10'-3 1/2")), shorter((16" / 14.25), (12' + 24")))
    item i31 "Thing i31" code "HW" need ((2.5 plf * g30) / round_up(19.5, to: 39)) waste 5% only when ((("moisture" is one of regular) and (no or g28)) when ($19.65/CLF is given), ("B" is one of regular rated) when ((27 CSF is not 35 sf) when (g28 and no), ( MSF yes and g28) otherwise), ((2 + f13) <= f13) otherwise)
end
for rooms
    g32  =  (100% of ((($7.59 / 10'-3 1/2") * t20(k0: "rated")) * ((7.5% of 8½") when (not yes), round_up(600 mm, to: 12') otherwise)))
    g33 "Label g33"  =  shorter((12 sf - 9 sf), (-1 CSF)) when ((40 CSF / 2.4 m) <= shorter(24", 24")), ((sum of bays (24 sf) where g28) when (no when yes, no otherwise), (14 CSF when yes, 40 sf otherwise) otherwise) when (("B" is "A") or (not no)), shorter((4 ft * 24"), (8½" * 600 mm)) when ("rated" is "B"), (sum of openings ((g22 - g22)) where (yes and no)) otherwise  source "a handbook, table 3"
    g34 "Label g34"  =  f1
    g35  =  2024-02-29 when (any of openings ((4 >= f4))), (g34 when (yes and yes), 2024-02-29 otherwise) otherwise  source "a handbook, table 3"
    g36  =  ((15.5 plf - 12.5 plf) * shorter(600 mm, 2.4 m)) when (not (not yes)), ((31.5 plf / f3) * shorter(8'-6", 2.4 m)) when (round_even(7.1 psf, to: 5.4 psf) is not round_even(f7, to: 4.9 psf)), (d19(p0: f7) / longer(f3, 21)) when (shorter(10'-3 1/2", 10'-3 1/2") >= longer(24", 2.4 m)), (most of bays ((7.5% of f5))) when ((4 ft / f3) = (18" when no, 5/8" otherwise)), (f5 - 18 lb) otherwise
    check c37 (((2 * f4) is not f4) when (not (yes and yes)), (f4 < round_up(24" / 5/8")) otherwise) else notes
    check c38 (f7 is given) else warns
        "It is {g36}."
    labor i39 code "L-BRD" need (f4 when ("free" is one of regular rated A), 0 when ("B" is one of regular), f4 otherwise) rate 0.07 hr/ea waste 5%
end
for job
    j0_0 "Figure 0"  =  0% of sum of lines (cost)
    total "Total"  =  sum of lines (cost)
end

==== layer 1
book "Book 1"  edition "5"
use "layer 0"
table t40 "A table"
    k0 length, exact | k1 length, from | got money
    8" | 8" | $15.84
    16" | 16" | $30.14
end
for rooms
    check c41 ((not ($14.02 <= $38.07)) when ((f1 is not g34) when (f2 is given), ("rated" is one of regular rated A) otherwise), (2026-03-01 is not 2024-02-29) otherwise) else stops
    check c42 (f7 <= 0.1 psf) else notes
        "It is {g36}."
    replace labor i39 code "L-BRD" need (sum of bays (5/8"))
    item i43 code "GB" cut d17(p0: "rated", p1: (-(10% of f5)), p2: longer((8'-6" - 16"), (16" when yes, 12' otherwise))), each shorter((sum of bays (round_down((18" when g28, g30 otherwise), to: 10'-3 1/2"))), (((5% of g33) * shorter(f3, f3)) / ((sum of bays (g30) where g28) when (1/2" > 12'), round_even(600 mm, to: 600 mm) otherwise))) waste 10%
    item i44 "Thing i44" code "HW" need ((shorter(4 ft, 5/8") * (-f3)) when ("grid" is one of regular rated A), (-longer(8'-6", 2.4 m)) when (not (18" = 5/8")), longer((24" / f3), (1/2" + 16")) when (26.5 plf is given), (longer(g33, g33) / round_down(18", to: 24")) when (g34 is not 2024-02-29), 2.4 m otherwise) waste 7.5%
end
for bays
    g45 "Label g45"  =  10%
    g46 "Label g46"  =  g45
    replace g30  =  ((6 CSF / 18") + (23 sqm / 5/8")) when (not (no or yes)), round_down((10% of 12'), to: 600 mm) when ("rated" is one of regular rated), ((5 sf / 600 mm) - (9 CSF / 8'-6")) when ((16.125 = 12000) when (yes and no), (yes or yes) otherwise), shorter((4 sqm / 8½"), (22 sqm / 8½")) when no, 600 mm otherwise
    g47 "Label g47"  =  f1 when (25 is given), f1 when ("grid" is one of regular rated A B), f1 otherwise  source "a handbook, table 3"
    g48 "Label g48"  =  (((23 CSF / g30) - (19 sqm / 8½")) - ((5 sf when no, 38 CSF otherwise) / (-4 ft)))  source "a handbook, table 3"
    g49  =  round_up(f3)
end
for openings
    replace g25 "Label g25"  =  d18(p0: 7.5%)
    g50  =  d17(p0: "moisture", p1: ((f7 * 10'-3 1/2") * (16" / 8.5)), p2: ((g22 / 10'-3 1/2") - (5/8" - 18")))
    check c51 (yes and yes) else warns
        "It is {g50}."
    labor i52 code "L-BRD" need round_up(round_up((f9 of 4 ft), to: 4 ft) / (round_even(16", to: 10'-3 1/2") / shorter(25000, f3))) rate 0.09 hr/ea
    labor i53 code "L-BRD" need d17(p0: "grid", p1: ((g24 * 16") + (g24 * 1/2")), p2: ((g22 / 1/2") when (no or yes), (g22 / 12') otherwise)) rate 0.01 hr/ea
    item i54 code "ST" cut round_up(39000), each ((24" * 8'-6") / round_even(24", to: 8½"))
end
example "case 54"
    openings  id "0"  f8 4  f9 5%  f10 31 hr
    bays  id "0"  f12 $17.14  f13 1  f14 $4.21  f15 32 hr  f16 22 hr
    shows f7 = 8.6 psf
    shows f2 = $0.05/m
end

==== 
book "Book 2"  edition "1"
use "layer 0"
use "layer 1"
define d55(p0 area,  1 percent, p2 $/ft) hours  =  (99999999999999' hr + (3 hr / 5.125))  source practice
for openings
    g56 "Label g56"  =  square_root((-round_even(  (2000, f3), to: 32.125)))  source practice
    g57 "Label g57"  =  d55(p0: shorter(((16 sf / 7000) - (g22 when no, 25 CSF otherwise)), ((f9 of g22) * t20(k0: "regular"))), p1: 7.5%, p2: (((f9 of f2) * (600 mm / 12/ (t20(k0: "free") / (f3 - g23))))
    check c58 ((longer(f11, f11) > ($1.81 - $18.01)) and no) else warns
    check c59 ("B" is "grid") else warns
    item i60 code "XX" cut (d17(p0: "A", p1: ((1.7 psf *p4 ft) * shorter(10-3 1/2", 1/2")), p2: 4 ft) + f4), each (((g22 / f3) / (1/2" * g56)) when ((yes or no) and yes), 16" when no, 1/2" otherwise)
    item i61 "Thing i61" code "GB" need longer(((-g24) * (23 sf / 1/2")), d19(p0: (g25 + f7))) waste 100%
    item i62 "Thing i62" code "GB" need round_up(square_root(((g56 + 6.5) - (f3 / 5.125))))
end
for bays
    replace g29  =  ($24.58/m * 16")  source "a handbook, table 3"
    g63 "Label g63"  =  (g45 of d55(p0: (1/2" * g30), p1: (10% when no, g45 otherwise), p2: ($2.78/CLF + $29.22/ft)))
    g64 "Label g64"  =  longer((-f5), shorter(f5, f5))
    check c65 ((not no) and (g30 = g30)) else warns
    check c66 (g28 when g28, g28 otherwise) else notes
        "It is {g^64}."
end
for rooms
    g67 "Label g67"  =  2026-03-01 when ("moisture" is one of regular rated A ), g35 otherwise
    replace g34 "Label g34"  =  f1 when ((22.5 * f3) < (f3 * f3)), f1 when ("A" is given), f1 when ((f7 * f3) >= f7),, f1 otherwise  source "a handbook, table 3"
    g68  =  (most of openings (f7))  source practice
    g69 "Label g69"  =  (most of bays (10 hr))  source practice
    g70  =  ((24" * 24") when (g33 is given), (g33 when no, 8 sf otherwise) otherwise) when ("north" is "B"), ((5% of g33) when (no and no), (0% of 38 sf) otherwise) otherwise  source practice
    replace g36 "Label g36"  =longerlonger((shorter(round_up(f5, to: 18 lb), (-f5)) when ((-17 sqm) < (12' * 1/2")), d19(p0: (-f7)) otherwise), (18.5 plf * 24"))  source "a handbook, table 3"
    item i71 "Thing i71" code "AN" need (((f4 when yes, f4 otherwise) * f4) when ((f7 is not f7) or (no or no)), (f4 + (f4 + f4)) when yes, f4 otherwise