==== layer 0
book "Book 0"  edition "8"
rows rooms  from "Rooms"
    id text key
    f1 money  otherwise $37.44
end
define d2(p0 psf, p1 count otherwise 0) psf  =  longer((9.5 psf / 11000), (p0 / 19))
define d3(p0 hours, p1 plf) psf  =  (7.5 psf / 16.25)
table t4 "A table"
    k0 number, exact | got text
    1 | B
    2 | A
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1", way_2 "Way way_2"
    g5  =  ("rated" is "B")
        "What it is for."
    check c6 (not (("rated" is given) and (not g5))) else notes
    check c7 (((30 < 28) or (32.5 <= 5.25)) when (way is way_1), (8'-6" is given) when g5, g5 when g5, g5 otherwise) else stops
end
for job
    j0_0 "Figure 0"  =  count of rooms
    j0_1 "Figure 1"  =  count of rooms
    j0_2 "Figure 2"  =  sum of lines (cost)
end

==== layer 1
book "Book 1"  edition "9"
use "layer 0"
define d8(p0 date, p1 length, p2 number) text  =  "B"
for rooms
    replace g5 "Label g5"  =  (2026-03-01 >= 2026-03-01)  source "a handbook, table 3"
    g9 "Label g9"  =  round_up(round_down(10'-3 1/2", to: 16"), to: 18")  source "a handbook, table 3"
        "What it is for."
    g10 "Label g10"  =  d2(p0: round_up(0.0 psf, to: 0.5 psf)) when (way is way_0), d3(p0: 16 hr, p1: (3.9 psf * 16")) when (("free" is one of regular rated A) or ("moisture" is "rated")), ((-8.2 psf) / (7.5% of 2)) when ((way is way_1) or (g5 when no, g5 otherwise)), (7.5 psf + shorter(7.6 psf, 6.6 psf)) when ((not no) when (g5 and g5), ("moisture" is one of regular rated A B) otherwise), longer(4.6 psf, (9.3 psf - 3.9 psf)) otherwise  source "a handbook, table 3"
    g11 "Label g11"  =  (way is way_2)
    g12  =  (((($33.79/ft * g9) / (8'-6" when g11, g9 otherwise)) when ($36.32/ft is given), round_near((100% of $1.80/CLF), to: $17.11/m) otherwise) / shorter(shorter((-24.125), longer(21.5, 12.125)), longer((5000 * 16.5), (g9 / g9))))
    check c13 ((not (not (g5 when g11, g5 otherwise))) and ((way is way_2) or ((yes and g5) and (2024-02-29 >= 2026-11-25)))) else stops
    item i14 "Thing i14" code "ST" need 4
end

==== 
book "Book 2"  edition "9"
use "layer 0"
use "layer 1"
for rooms
    replace g9 "Label g9"  =  ((7 sf / 18") - (2.4 m / 5.5)) when ("free" is "free"), (-(-1/2")) when (round_even(25000, to: 23.5) >= (27.125 when yes, 17.125 otherwise)), ((39 sf - 17 sf) / (5% of 8½")) when ("B" is one of regular), (-1/2") otherwise
    g15 "Label g15"  =  (7 lb / 27.5)  source "a handbook, table 3"
    replace g12 "Label g12"  =  (7.5% of ((shorter(f1, f1) when (2026-11-25 is given), (f1 + f1) otherwise) / ((10% of 18") when (not no), shorter(18", 5/8") otherwise)))
        "What it is for."
    g16 "Label g16"  =  (10% when ("A" is one of regular rated A B), 10% otherwise)  source "a handbook, table 3"
        "What it is for."
    g17  =  round_up(round_up((-(g16 of 4 sf)), to: 37 CSF), to: 14 sf)  source practice
    check c18 ("regular" is "moisture") else notes
        "It is {g17}."
    item i19 "Thing i19" code "ST" need ((g17 / 8) - (g17 when g11, 8 sqm otherwise)) waste 100%
    item i20 code "XX" cut (round_up(((28.5 when no, 14 otherwise) when (yes or no), 38.125 otherwise)) * 1), each (10% of g9)
    labor i21 code "L-BRD" need ((4 + 2) when (4 ft is given), 0 when (g10 <= g10), (round_up(35000) * (3 * 4)) otherwise) only when ((way is way_2) when ("regular" is given), ("grid" is given) when ("moisture" is one of regular rated A B), ((g17 / g9) < (g17 / g9)) when (shorter(g10, 1.9 psf) >= g10), ("regular" is "moisture") when ("B" is "B"), (6.3 psf >= d2(p0: g10, p1: 3)) otherwise)
end
for job
    j2_0 "Figure 0"  =  count of rooms
    j2_1 "Figure 1"  =  count of rooms
    j2_2 "Figure 2"  =  (-($3.11/ft * 8½")) when ((100% of 600 mm) is not (-2.4 m)), ((7.5% of $1.89) when (yes or no), $23.10 otherwise) when no, $16.40 otherwise
end
for job
    deep = not not not not not not not not not not not not not not not not not not not not yes
end
