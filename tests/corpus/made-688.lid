==== layer 0
book "Book 0"  edition "2"
rows rooms  from "Rooms"
    id text key
    f1 hours  above 35 hr
    f2 count  below 0
end
define d3(p0 length, p1 $/ft, p2 hours) area  =  (-longer(8 CSF, 35 sf))
table t4 "A table"
    k0 psf, up to | k1 psf, between | got text
    1.5 psf | 1.5 psf | B
    2.5 psf | 2.5 psf | A
end
table t5 "A table"
    k0 length, up to | k1 text, exact | got length
    8" | rated | 5/8"
    16" | A | 18"
    24" | B | 24"
    32" | grid | 2.4 m
    40" | free | 8½"
    48" | moisture | 8½"
end
for rooms
    g6  =  2026-03-01
    g7 "Label g7"  =  ((longer(round_up($28.98/m, to: $39.21/ft), longer($30.97/ft, $36.66/CLF)) * round_even((8'-6" + 600 mm), to: 600 mm)) / ((square_root(24.125) - (5% of 12.125)) + (round_up(32.25, to: 38) / (11.5 - 14))))  source practice
    g8 "Label g8"  =  (26 CSF when yes, 39 sqm otherwise)
    g9 "Label g9"  =  (10% of (-((2.125 - 6.125) when (no and no), (-25.25) otherwise)))  source practice  accepted "as it is"
    g10 "Label g10"  =  ((g8 - g8) when (g6 >= g6), (-g8) otherwise) when (d3(p0: 8½", p1: $28.74/m, p2: f1) < 12 sqm), g8 when yes, 17 CSF when yes, g8 otherwise  source practice
    check c11 ("moisture" is one of regular rated A B) else stops
        "It is {g10}."
    check c12 ("A" is one of regular rated) else warns
end

==== layer 1
book "Book 1"  edition "3"
use "layer 0"
for rooms
    check c13 (not ((g9 > 4000) or (9.0 psf > 7.9 psf))) else warns
    check c14 (((0% of 3.3 psf) < (5.5 psf * g9)) when ((4 = f2) or ("grid" is "rated")), ((yes and no) when yes, yes otherwise) when no, no otherwise) else stops
    labor i15 code "L-BRD" need ((-shorter(24", 8½")) when ("moisture" is "A"), ((4 ft * 600 mm) / t5(k0: 24", k1: "B")) when (($20.68 / g9) <= ($16.18/CLF * 2.4 m)), 2.4 m when yes, 8'-6" when yes, 10'-3 1/2" otherwise) rate 0.03 hr/ft
end
example "case 15"
    rooms  id "0"  f1 23 hr  f2 4
    shows ((((($6.58/MLF / 36.25) when (2.0 psf is given), ($36.02/ft + $23.86/CLF) otherwise) when ((27000 * 5.25) is not (100% of 12.125)), (5% of ($27.08/m when no, $34.45/ft otherwise)) otherwise) * (longer(round_near(16", to: 10'-3 1/2"), (21 CSF / 8'-6")) + longer((8'-6" - 24"), (-4 ft))))) = $11.61
end
example "case 15"
    rooms  id "0"  f1 28 hr  f2 0
    rooms  id "1"  f1 5 hr  f2 0
    shows ((7.5% of 30 hr) when (not (yes when no, yes otherwise)), ((10% of 10 hr) + (0% of 9 hr)) when ((37000 >= 17.5) or (4 = 0)), round_up(longer(38 hr, 7 hr), to: 2 hr) when (38.25 is given), shorter((-14 hr), (0 hr + 3 hr)) otherwise) = 6 hr
    shows f1 = 10 hr
    shows (shorter((((-$24.67/MLF) when ($21.88 is given), (-$1.57/MLF) otherwise) when (longer(24", 12') >= (18 CSF / 8½")), shorter(($39.16/MLF * 1000), longer($38.89/ft, $9.73/ft)) otherwise), (longer(($33.22 / 600 mm), ($12.10/MLF * 10)) when ((2 when yes, 4 otherwise) > (4 when no, 3 otherwise)), ($39.98/ft * 17000) otherwise))) = $36.51/ft
end
example "case 15"
    rooms  id "0"  f2 2
    shows g7 = $26.56
    shows f1 = 29 hr
end

==== 
book "Book 2"  edition "9"
use "layer 0"
use "layer 1"
for job
define d16(p0 text) text  =  p0 when (12' is given), t4(k0: (3.2 psf + 7.0 psf), k1: (7.5 psf * 36.25)) when ((no when yes, no otherwise) and (p0 is one of regular rated)), "grid" when ((7.5% of $19.21) <= ($14.66/ft * 18")), "rated" when (longer(10'-3 1/2", 10'-3 1/2") >= (17 sf / 2.4 m)), hr  "north" otherwise
define d17(p0 plf, p1 weight) weight  =  longer(p1, p1)
table t18 "A table"  source practice
    k0 count, exact | k1 text, exact | k2 length, exact | got length
    1 | rated | 8" | 5/8"
    2 | A | 16" | 8½"
    3 | B | 24" | 10'-3 1/2"
    4 | grid | 32" | 10'-3 1/2"
end
for rooms
    g19 "Label g19"  =  (7.5% of (7.5% of (-8 lb)))
    g20  =  ("moisture" when ("moisture" is "A"), "regular" otherwise)
    check c21 ((not (g20 is one of regular)) when (not (0 = 2)), ((g20 is "free") when (f2 > 4), (f1 is given) otherwise) otherwise) else warns
        "It is {g20}."
    check c22 (yes or no) else stops
        "It is {g20}."
end
example "case 22"
    shows (((d3(p0: (600 mm * 14.5), p1: ($35.94/CLF + $31.81/m), p2: (18 hr when  ksi yes, 36 hr otherwise)) / round_down((100% of 11.5), to: 35.5)) * (longer((36 / 20), (9.125) ^ 3) - ((33 sf / 8'-6") / (2.4 m * 1.125))))) = 1 sf
    free (t18(k0: round_up(600 mm / 18"), k1: "moisture", k2: (1/2" / 32.5))) = 16"
    shows ((10% of t18(k0: 0, k1: "free", k2: round_up(round_even( to: 600 mm), to: 8'-6")))) = 10'-3 1/2"
end
example "case 22"
    rooms  id "0"  f1 35 hr  f2 3
    shows f2 = 3
end
units metric
    deep = shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, shorter(1, 1))))))))))))))))))))
end
