book "Book 0"  edition "7"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 date  heading "Heading 1" or "H1"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 money
    item_3 yes/no
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f4 text  one of regular rated A B grid free moisture north
    f5 area  otherwise 24 sqm
    f6 date
    f7 percent
    f8 psf
    f9 weight  heading "Heading 9" or "H9"  may be blank
    f10 plf  from 4.5 plf to 38.5 plf  otherwise 11.5 plf
end
define d11(p0 $/ft, p1 money) count  =  3
        "What it is for."
for openings
    g12 "Label g12"  =  (((3.5 + 18.5)) ^ 2 - square_root((-9.125)))
    g13  =  shorter((g12 - g12), (g12 / 25.5)) when ((item_3 or item_3) when (35 sqm is not 11 CSF), (item_3 and item_3) otherwise), ((12' / 24") / (-g12)) when ((10 sf = 28 sqm) or ("regular" is "rated")), ((13.25 - g12) - (g12 - g12)) when ("grid" is one of regular), ((12' / 8½")) ^ -1 when no, 16.5 otherwise  source practice
    g14  =  (7.5% of $17.01/m)  source practice
    g15  =  (f2 / 16")
    g16 "Label g16"  =  ((100% of $2.65) - (g14 * 16")) when ((not item_3) and (no or item_3)), round_down(($34.25/m * 5/8"), to: $38.63) when ("grid" is one of regular), (-(f2 + f2)) when (not ("rated" is one of regular rated)), ((g15 * 10'-3 1/2") + (g15 * 600 mm)) otherwise
    g17  =  ((8.1 psf * g13) <= (0.2 psf * g13))
    check c18 (3.6 psf > 7.9 psf) else notes
        "It is {g17}."
    check c19 ((square_root(g13) >= (g13 - g13)) when ("moisture" is "north"), ("moisture" is one of regular) otherwise) else warns
    item cost_20 "Thing cost_20" code "ST" need ((longer(27 sf, 35 CSF) + (22 sf / g12)) when (not (29.5 <= g13)), (7.5% of (7 sf / g13)) otherwise) waste 0%
    item i21 "Thing i21" code "XX" need (round_up((5/8" / g13) / longer(24", 24")) * round_up((23000 * g12)))
    labor i22 code "L-BRD" need ((0 when item_3, 4 otherwise) + 4)
end
for bays
    g23  =  2026-03-01 when (f4 is one of regular), f6 when (f6 is not f6), f1 otherwise
    g24 "Label g24"  =  (f7 when (no when yes, yes otherwise), f7 otherwise) when (f6 <= g23), f7 otherwise
    g25  =  g23  source practice
    g26  =  (g24 of ((f5 - 35 sqm) / (-5/8")))  source practice
    item i27 "Thing i27" code "AN" need (((f9 - f9) * (-15000)) when (2 is not (1 when yes, 4 otherwise)), (-(f9 * 1.5)) when ((f8 is given) or (no and no)), ((33 lb * 20) when (2 < 2), (f10 * g26) otherwise) when (f4 is "north"), (-round_down(32 lb, to: 28 lb)) otherwise)
    item i28 code "XX" cut round_up((1000 * 21.125)), each ((longer(f5, 30 CSF) + (g26 * g26)) / ((f5 * 6) / (g26 / 8000)))
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1"
    g29 "Label g29"  =  (round_even(((5% when no, 7.5% otherwise) of longer(27 sf, 5 sqm)), to: 35 sqm) / longer(longer((36.125 when yes, 18.5 otherwise), (24" / 12')), longer((36.25 / 17000), (0 - 3000))))
    g30 "Label g30"  =  (((26.125 / 31.125) / (22.125 when no, 7000 otherwise)) - (most of bays (shorter(20.25, 30000))))
    check c31 (way is way_0) else notes
        "It is {g30}."
    check c32 ("free" is "grid") else notes
        "It is {g30}."
    item i33 code "XX" cut (0 + 1), each (4 ft / g30)
end
example "case 33"
    rooms  id "0"  f1 2026-03-01
    openings  id "0"  f2 $28.41  item_3 no
    bays  id "0"  f4 A  f5 35 sqm  f6 2026-11-25  f7 100%  f8 9.0 psf  f9 2 lb  f10 4.5 plf
    shows f1 = 2024-02-29
    shows g29 = 9 CSF
    shows g30 = 18000
end
