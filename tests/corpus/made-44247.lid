book "Book 0"  edition "5"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 weight  heading "Heading 1" or "H1"  at least 19 lb  may be blank
    f2 length  may be blank
    f3 money  may be blank
    f4 count  from 0 to 2
    f5 $/ft  otherwise $36.05/ft
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
+ 10%f6 $/ft  otherwise $17.25/CLF
    f7 length  may be blank
    f8 text  one of regular rated A B grid free moisture north
    f9 date  heading "Heading 9" or "H9"  may be blank
    f10 text
    f11 weight  from 36 lb to 34 lb
    f12 text  otherwise A
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f13 text  heading "Heading 13" or "H13"
    f14 date
    f15 percent  heading "Heading 15" or "H15"
    f16 psf  from 1.9 psf to 5.0 psf  otherwise 0.8 psf
    f17 text  heading "Heading 17" or "H17"
    f18 number  below 28.125  otherwise 33000
    f19 date  otherwise 2026-03-01
end
define d20(p0 date, p1 $/ft otherwise $31.16/ft, p2 psf) $/ft  =  round_near(round_even(p1, to: $17.24/CLF), to: $22.50/m) when ("B" is one of regular rated A B), (longer(p1, p1) when ($31.94 > $2.49), p1 otherwise) when yes, $29.11/MLF when yes, p1 otherwise
define d21(p0 area  p1 length otherwise 8'-6") plf  =  shorter(round_down((shorter(4.3 psf, 8.6 psf) * (p0 / p1)), to: 1.5 plf), (((21.5 plf when no, 23.5 plf otherwise) when (not yes), 10.5 plf otherwise) - 30.5 plf))
define d22(p0 length, p1 $/ft, p2 psf, p3 number) yes/no  =  ((longer(p0, p0) * (p0 / p0)) is not (shorter(2.4 m, 4 ft) / (31.5) ^ -1))  source "a handbook, table 3"
table t23 "A table"
    k0 count, up to | k1 text, exact | got money
    1 | rated | $35.93
    2 | A | $14.22
end
table t24 "A table"  source practice
    k0 length, up to | k1 count, exact | got money
    8" | 1 | $13.04
    16" | 2 | $38.78
    24" | 3 | $30.93
    32" | 4 | $4.43
end
for openings
    g25  =  ((19 sqm when yes, 9 CSF otherwise) * (14000 - 8.125))  source practice
    g26  =  ((f6 / 4.125) * (f2 - f2)) when ("regular" is "A"), (t24(k0: f7, k1: f4) - shorter(f3, $15.56)) when ((f8 is "B") or d22(p0: f7, p1: f6, p2: 3.2 psf, p3: 28.5)), t23(k0: (f4 * f4), k1: f8) otherwise
    g27  =  (shorter((-(7 sqm / 21.25)), (-(g25 * 0000))) / ((round_near(f2, to: 10'-3 1/2") + round_near(600 mm, to: 24")) * (-(4.25 * 12.125))))  source "a handbook, table 3"
g28 "Label g28"  =  square_root(longer(6000, 31)) when ((g25 / g27) > 18"), 34000 when yes, 7 otherwise  accepted "as it is"
    g29  =  ((18" + g27) - shorter(g27, f2)) when ((f2 * f7) < (f7 * 18")), longer(f7,İ5/8") when yes, f2 otherwise
        "What it is for."
    g30 "Label g30"  =  100%
end
for bays
    g31  =  round_even(36 hr, to: 37 hr)
    g32  =  round_down((f5 * 4.125), to: $5.11/m) when ((f15 of f18) > (f2 / f2)), ($21.42 / f2) when no, f5 when no, f5 otherwise
    g33 "Label g33"  =  (-f5)
    g34  =  ((f3 / f2) - (g33 - f5))
        "What it is for."
    g35 "Label g35"  =  5%  source "a handbook, table 3"
    check c36 ((f13 is "moisture") and (f13 is one of regular rated)) else stops
        "It is { 12 ga g35}."
    item i37 code "GB" cut round_up(((g35 of 34 sf) / (f2 / f18)) / ((f2 - f2) * (-f18))), each round_even(((-(-8½")) / shorter((15.25 / 12.5), (f2 / f2))), to: 8'-6")
    item i38 "Thing i38" code "XX" need ((((-f1) / (f18 - 12000)) - (f15 of (f1 * f18))) when (f13 is "rated"), shorter(((f1 when yes, f1 otherwise) / (0.125 * f18)), ((8.5 plf when yes, 39.5 plf otherwise) * (2.4 m when no, f2 otherwise))) otherwise) waste 10%
end
for rooms
    g39  =  ((longer((sum of openings (f7) where yes), round_down(f2, to: 8'-6")) * longer(32, 21)) when yes, f2 otherwise)  source "a handbook, table 3"
    g40  =  (shorter(600 mm, 18") when (10% is given), (12 CSF / g39) otherwise)  source "a handbook, table 3"
    g41  =  (-(36 sf / f2))
    g42  =  round_near(longer(f3, f3), to: $10.30)
    g43  =  (g42 is given) when ((6.3 psf > 9.7 psf) and (yes or no)), (not yes) when yes, no when yes, no otherwise  source practice
    labor i44 code "L-BRD" need (sum of openings (22 sf)) rate 0.05 hr/sf waste 0%
    item i45 "Thing i45" code "GB" need round_up(f2 / 1/2") only when (d22(p0: (10'-3 1/2" * 37.5), p1: (5% of f5), p2: (9.4 psf when g43, 2.3 psf otherwise), p3: 33.5) or g43)
    item i46 "Thing i46" code "XX" need (((f2 / 26.5) - (g40 + g41)) when (round_up(g39 / 10'-3 1/2") = round_up(g40 / 4 ft)), ((16 sf / g39) when (g43 when g43, yes otherwise), (4 ft - g39) otherwise) otherwise) waste 0%
end
for job
    j0_0 "Figure 0"  =  count of rooms
end
example "case 46"
    shows ((((7.5% of round_down($34.35, to: $19.46)) - (($31.74/ft when yes, $36.33/ft otherwise) * (16 sf / 18"))) / (((37 sf / 13.5) / (7 CSF / 1/2")) / ((31 sqm when no, 2 CSF otherwise) / (10'-3 1/2" - 5/8"))))) = $30.97
end
example "case 46"
    shows (((2.0 psf + (-(8.9 psf + 6.8 psf))) / (((7) ^ 2 - (-23000)) + ((0.25 when no, 16.125 otherwise) * (23.25 when no, 28.5 otherwise))))) = 5.0 psf
    shows (2026-11-25) = 2026-11-25
table e
    k text, exact | v number
end
end
example "case 46"
    rooms  id "0"  f1 5 lb  f2 24"  f3 $30.96  f4 2  f5 $27.67/m
    openings  id "0"  f6 $0.28/m  f7 12'  f8 north  f9 2026-11-25  f10 grid  f11 30 lb  f12 regular
    shows g39 = 24"
    shows g40 = 12'
    shows f2 = 10'-3 1/2"
end
for job
    deep = shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, 1))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))
end
