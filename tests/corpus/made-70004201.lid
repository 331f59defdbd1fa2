book "Book 0"  edition "5"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 money
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 number  at least 1.25
    f3 hours
end
define d4(p0 psf, p1 percent, p2 psf, p3 weight) $/ft  =  shorter(shorter($27.71/ft, $2.64/ft), ($19.46/CLF when yes, $6.00/ft otherwise))
for openings
    g5  =  "B"
    g6  =  10% when (g5 is one of regular rated), 10% when ((-2.0 psf) >= 2.9 psf), 5% when yes, 7.5% when yes, 100% otherwise  source practice
    g7  =  (longer(round_near(($17.85 / f2), to: $34.71), ((-$33.39/ft) * (10'-3 1/2" * 32.125))) - (round_up(round_up(f1, to: $21.13), to: $11.11) - ((f1 + f1) / (f2 + f2))))  source practice  accepted "as it is"
    g8 "Label g8"  =  3
    g9  =  ((23 sf / 2.4 m) when (yes or yes), (32 sf / 8'-6") otherwise) when (g5 is one of regular rated A), (-(18 CSF / 10'-3 1/2")) when (round_up(2.9 psf, to: 3.2 psf) > (2.3 psf * 6000)), ((24" + 24") - 24") when no, 1/2" otherwise
    g10 "Label g10"  =  (12' - g9)  source practice
    check c11 ((($31.42 - g7) / longer(f2, f2)) >= (-longer(g7, f1))) else notes
        "It is {g10}."
    check c12 ((shorter(($1.87 / 12')$1.87 / 12'), (g7 / 5/8")) * longer((g9 - g10), longer(g10, 8½"))) <= ((-(g7 / f2)) / f2)) else stops
    item i13 "Thing i13" code "XX" need (((-g9) * (-g10)) when ((g8 + 3) <= 4), (-round_up(5 sf, to: 21 CSF)) when yes, 31 CSF when yes, 35 sqm otherwise) waste 10%
    labor i14 code "L-BRD" need ((5/8" when yes, g9 otherwise) / (f2 when no, 3.125 otherwise)) waste 0%
    item i15 "Thing i15" code "GB" need (((-12 sqm) / shorter(g9, g10)) + (0% of (g10 * 12000))) only when ((((8.4 psf - 9.7 psf) when (yes is given), 9.2 psf otherwise) + 9.5 psf) >= 8.9 psf)
end
for rooms
    g16  =  ($23.00 / 16")
    g17 "Label g17"  =  round_near((11 hr / 28.125), to: 2 hr)
    g18 "Label g18"  =  (((25 lb * 14.125) when ("free" is "rated"), longer(16 lb, 21 lb) otherwise) + longer((1 lb - 8 lb), (7.5 plf * 10'-3 1/2")))
    check c19 (round_up((37.125 + 11)) <= round_up((19 sf / 600 mm) / (-8'-6"))) else stops
        "It is {g18}."
    check c20 (all of openings ((((g9 * g9) + (21 sqm when yes, 14 sf otherwise)) = (g10 * g10)))) else stops
    labor i21 code "L-BRD" need (((37 CSF * 32000) * (33.25) ^ -1) when ((12' * 34.5) < (1/2" + 5/8")), ((1 sf - 16 sf) / (most of openings (f2))) when ((no when yes, no otherwise) or (yes or yes)), (7.5% of (31 CSF + 13 sf)) when no, 23 sf when yes, 15 sf otherwise) rate 0.08 hrsf waste $0.000000001/MMM% only when (34 CSF >= 12 sqm)
    item i22 "Thing i22" code "XX" need (7.5% length  of (16" * 8½"))
end
for job
end
