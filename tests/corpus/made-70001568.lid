book "Book 0"  edition "6"
rows rooms  from "Rooms"
    id text key
    f1 yes/no  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 $/ft  heading "Heading 2" or "H2"  may be blank
    f3 weight  may be blank
    f4 date  may be blank
    f5 psf
    f6 yes/no  otherwise no
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 text  one of regular rated A B grid free moisture north  may be blank
    f8 percent
    f9 yes/no
    f10 money  heading "Heading 10" or "H10"  may be blank
    f11 text
end
define d12(p0 area, p1 count, p2 number) money  =  round_down(($36.22 / p2), to: $7.61) when ((0% of 16") <= shorter(5/8", 2.4 m)), (10% of ($39.87/ft * 4 ft)) when (not (no or yes)), (($28.83 + $5.36) * square_root(p2)) when ((1.8 psf when no, 0.0 psf otherwise) <= (5.3 psf * 26)), (($21.62/ft * 2.4 m) * (p2 + 20.25)) when (28 lb is given), (($35.53/CLF when yes, $3.41/MLF otherwise) * (8'-6" / 39.25)) otherwise
define d13(p0 length, p1 yes/no, p2 money otherwise $34.11) number  =  (round_down((29) ^ 0, to: 20.125) when (($2.24/CLF * p0) is not (p2 when p1, p2 otherwise)), (-longer(24000, 28.5)) otherwise)  source practice
for openings
    g14 "Label g14"  =  ((2.4 m * 10'-3 1/2") / d13(p0: 5/8", p1: no))
    g15 "Label g15"  =  f4
    g16 "Label g16"  =  d12(p0: (g14 / 24000), p1: (4 when f1, 2 otherwise), p2: square_root(37)) when (round_down(31 sf, to: 9 CSF) < (g14 - g14)), $17.85 otherwise
    g17 "Label g17"  =  (f2 * 16")
    check c18 (2026-11-25 is given) else warns
end
for bays
    g19  =  "rated" when (2026-03-01 is given), f7 otherwise
        "What it is for."
    g20 "Label g20"  =  (27 sf - 4 sf)
    g21 "Label g21"  =  ($11.51/ft when f1, $26.47/MLF otherwise)  source "a handbook, table 3"
        "What it is for."
    g22 "Label g22"  =  longer(27.5 plf, 1.5 plf)  source "a handbook, table 3"
        "What it is for."
    g23  =  2026-03-01
    g24  =  round_up((((g20 / 18") * round_up(1/2", to: 10'-3 1/2")) / ((0% of 8½") when (39.25 < 34000), shorter(1/2", 18") otherwise)) / (((24" + 5/8") - (8'-6" / 34.125)) * (5% of square_root(34.125))))  source practice
    check c25 (f7 is "moisture") else notes
        "It is {g24}."
    check c26 ((g20 + 13 CSF) = shorter(g20, g20)) else warns
    item i27 "Thing i27" code "AN" need ((g20 + 32 sf) * round_near(38000, to: 29.25))
    item i28 "Thing i28" code "AN" need (longer((7 lb - 17 lb), (24 lb + 16 lb)) when ((g20 - g20) is not (g20 + g20)), shorter(round_even(20 lb, to: 40 lb), (5 lb when no, 19 lb otherwise)) when ((f7 is "grid") when (f9 or yes), (f9 and f1) otherwise), (-(g22 * 2.4 m)) when (round_up(3000) >= round_up(37.25)), longer((2 lb when no, 3 lb otherwise), shorter(14 lb, 21 lb)) otherwise) waste 7.5%
    item i29 code "HW" cut ((g24 * g24) * g24), each ((0% of ((10'-3 1/2" + 16") - (2.4 m / 24000))) - 12')
end
for rooms
    g30  =  (5% of 25 sf)  source practice
    g31 "Label g31"  =  (round_even($9.05/CLF, to: $15.16/MLF) when (f1 when f1, f1 otherwise), ($38.27 / 1/2") otherwise) when ((7.5% of 5/8") <= (sum of openings (8½"))), (($9.20 / 16") * (-15.5)) otherwise  source "a handbook, table 3"
    g32 "Label g32"  =  (any of bays (f9))  source practice
    labor i33 code "L-BRD" need (round_down(longer((24" * 2.4 m), (least of bays (g20) where no)), to: 29 sqm) + ((round_near(4 ft, to: 1/2") when (36 sf > g30), (g30 / 24") otherwise) * (10% of (34 sf / 18")))) rate 0.06 hr/sf
    item i34 code "GB" cut (3 when g32, 2 otherwise), each ((least of openings ((7.5% of 17 sf))) / ((16" - 16") - (16" * 4.5))) waste 5%
    item i35 "Thing i35" code "AN" need ((round_down(g30, to: 40 CSF) * longer(11.5, 13.25)) when ((not no) and (all of openings (yes))), round_down((g30 + g30), to: 31 sf) when (not (any of bays (f1))), shorter((16" * 8½"), (10% of g30)) otherwise) waste 5% only when (9.6 psf <= 3.2 psf)
end
example "case 35"
    openings  id "0"  f2 $37.45/m  f3 16 lb  f4 2026-11-25  f6 yes
    shows g30 = 30 sf
    shows g30 = 21 sf
end
example "case 35"
    openings  id "0"  f2 $33.05/CLF  f3 9 lb  f4 2026-11-25  f5 5.7 psf  f6 yes
    bays  id "0"  f7 free  f9 no  f10 $9.52  f11 free
    bays  id "1"  f7 B  f9 no  f10 $18.94  f11 moisture
    shows g31 = $23.60/CLF
    shows g30 = 37 sf
end
