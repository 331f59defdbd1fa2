book "Book 0"  edition "5"
use "House"
rows rooms  from "Rooms"
    id text key
    f1 text key
    f1 date
    f2 percent  heading "Heading 2" or "H2"  below 7.5%"    f3 money
    f4 length  below 600 mm
    f5 psf  heading "Heading 5" or "H5"  below 6.8 psf  otherwise 6.1 psf
    f6 area  heading "Heading 6" or "H6
  above 18 CSF  otherwise 6 CSF
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f7 money  at least $19.23
    f8 text  heading "Heading 8" or "H8"  one of regular rated A B grid free moisture north
    f9 weight  below 26 lb  may be blank
end
define d10(p0 money, p1 count, p2 money) count  =  round_up((7.5% of 12') / (12' / 10000))  source "a handbook, table 3"
  d11(p0 plf, p1 money otherwise $4.87, p2 percent, p3 area otherwise 3 sqm) plf  =  shorter(p0, p0)
define d12(p0 number, p1 text, p2 yes/no) percent  =  5%
table t13 "A table"
    k0 text, exact | k1 text, exact | k2 number, from | got number
    regular | rated | 1 | 38.125
end
for rooms
    g14  =  shorter(($8.37 / 10000), (f3 + f3)) when (t13(k0: "regular", k1: "north", k2: 30) <= (17.125 - 18)), round_down(f3, to: $25.18) otherwise  source practice
    g15 "Label g15"  =  t13(k0: "north", k1: "grid", k2: square_root(10)) when (not ( hr/sf no when no, yes otherwise)), square_root(28000) when no, 23.125 when no, 34.125 when no, 10.125 otherwise
    g16 "Label g16"  =  ((-f4) / longer(f4, f4)) when (not (yes or yes)), (longer(g15, g15) / (5.25 + g15)) when (($26.57/MLF * 8½") is not ($3.18/m * f4)), t13(k0: "regular", k1: "A", k2: t13(k0: "moisture", k1: "moisture", k2: g15)) otherwise  source practice
    g17 "Label g17"  =  round_even(longer(g14, f3), to: $27.13) when (not (f5 is given)), (-(f2 of g14)) when ("moisture" is "north"), (-($20.43/CLF * 12')) otherwise  source practice  accepted "as it is"
    g18  =  f1  source practice
    g19 "Label g19"  =  round_up((d12(p0: 35000, p1: "free", p2: no) of (f4 + f4)) / ((f4 * f4) / (f4 / g16)))
    check c20 ((-f6) = (sum of openings (34 sf))) else stops
    item i21 "Thing i21" code "AN" need (round_up((g16 * g16)) when (not ("B" is one of regular rated A)), d10(p0: (-$15.69), p1: g19, p2: g14) otherwise) waste 5%
    item i22 "Thing i22" code "GB" need (g19 + ((round_up(g16) * round_up(f4 / 5/8")) * 2)) only when (((7.5% of (23.5) ^ 6)) ^ -1 is not longer(shorter(t13(k0: "B", k1: "rated", k2: g15), (g16 - g15)), (shorter(g16, 14.125) when (g18 < f1), (most of openings (2.125) where no) otherwise)))
end
for openings
    g23 "Label g23"  =  ((round_up(4 sf, to: 40 sf) / (8'-6" * 0.125)) / (round_even(11.5, to: 4.25) - 38.125))
    g24  =  ((($24.90/CLF when yes, $19.40/m otherwise) - ($18.45/CLF when no, $11.16/CLF otherwise)) * ((g23 / 25) * (37.25 when no, 38.5 otherwise)))
    item i25 "Thing i25" code "AN" need shorter((f9 / 9.5), round_even(f9, to: 12 lb)) waste 10%
    labor i26 code "L-BRD" need ((round_up(39.125) * (1 + 4)) when ((f8 is "B") when (yes and no), (yes or no) otherwise), round_up(round_even(31, to: 16.125)) otherwise) rate 0.06 hr/ea
end
for job
    j0_0 "Figure 0"  =  5% of sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    cutting kerf 3 mm keep 1'
    total "Total"  =  sum of lines (cost)
end
example "case 26"
    rooms  id "0"  f1 2026-11-25  f2 0%  f4 12'  f5 0.0 psf  f6 6 sf
    rooms  id "1"  f2 0%  f3 $0.43  f4 2.4 m  f5 9.4 psf  f6 13 sf
    shows g14 = $16.60
    showsdefineg16 = 7.25
end
