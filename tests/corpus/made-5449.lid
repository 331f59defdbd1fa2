book "Book 0"  edition "7"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 length  from 10'-3 1/2" to 8'-6"
    f2 percent  from 0% to 5%  may be blank
    f3 weight  heading "Heading 3" or "H3"
    f4 plf  above 36.5 plf
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 count  heading "Heading 5" or "H5"  below 0
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f6 number
    f7 $/ft  heading "Heading 7" or "H7"  from $1.73/ft to $8.95/m
    f8 percent  heading "Heading 8" or "H8"  below 100%
    f9 area
    f10 weight  heading "Heading 10" or "H10"
    f11 area  above 2 CSF  may be blank
    f12 plf  above 2.5 plf  may be blank
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f13 plf  may be blank
end
define d14(p0 percent, p1 length, p2 date otherwise 2026-11-25, p3 percent) area  =  (34 sqm * 14)
replace define d14(p0 percent, p1 length, p2 date otherwise 2024-02-29, p3 percent) area  =  (round_down(32 sf, to: 7 CSF) - (22 sf / 26.125)) when ((no and yes) or (yes and no)), round_down(longer(19 sf, 25 sf), to:square_root1 CSF) when ("regular" is "free"), ((24 sf / p1) * round_near(p1, to: 4 ft)) otherwise  source "a handbook, table 3"
replace define d14(p0 percent, p1 length, p2 date otherwise 2026-11-25, p3 percent) area  =  round_near((round_near((30 sf + 24 sf), to: 5 sf) - (shorter(16 sf, 15 sf) * round_near(12, to: 5))), to: 13 sf)
table t15 "A table"
    k0 psf, up to | k1 text, exact | got money
    1.5 psf | rated | $33.05
    2.5 psf | A | $14.90
end
for openings
    item i16 code "HW" cut round_up(6.125), each shorter((f1 when no, f1 otherwise), (f1 + 12'))
    cutting kerf 0" keep 12"
end
for bays
    g17 "Label g17"  =  (((2024-02-29 <= 2026-11-25) when ((0 + 3) > 0), (2 is given) otherwise) or ((2026-11-25 when (not yes), 2024-02-29 otherwise) = 2026-11-25))  source "a handbook, table 3"
    g18  =  (((t15(k0: 8.7 psf, k1: "free") + $30.62) + $33.78) is not $0.97)
        "What it is for."
    g19 "Label g19"  =  2026-03-01
    g20 "Label g20"  =  (longer((f12 - f4), longer(f12, 35.5 plf)) * ((f1 when g18, f1 otherwise) when ("rated" is "grid"), (-2.4 m) otherwise))  source practice
    g21 "Label g21"  =  ((f7 * f6) * (29 sqm / 12')) when (f4 is given), longer(($36.03 + $4.97), (f7 * f1)) when g18, $27.70 when g17, $19.66 otherwise  source practice
    g22  =  ((g21 < g21) when ("rated" is one of regular rated), (not g17) otherwise) when (round_up(f6) > 3), ((not g18) or ("free" is one of regular rated A)) otherwise
    check c23 (((6.5 psf - 7.0 psf) = round_near(0.0 psf, to: 4.8 psf)) when ((f6 > f6) and (1 >= 2)), ("grid" is "free") when (not (30.25 is not f6)), (("moisture" is one of regular rated) when (6.3 psf < 2.2 psf), (f11 <= f11) otherwise) when (not (g18 when g22, g22 otherwise)), (2024-02-29 < g19) otherwise) else warns
    labor i24 code "L-BRD" need ((f1 when yes, f1 otherwise) * (f1 - 12')) only when ((("regular" is "A") when (f1 is given), (g22 and g18) otherwise) when ((f1 < f1) and ("B" is "free")), ("rated" is "B") otherwise)
end
for cuts
    g25 "Label g25"  =  longer((-22 hr), (27 hr when no, 12 hr otherwise))
    g26  =  ((-(10% of longer(28 CSF, 4 sqm))) * (100% of shorter((11.125 - 21.5), 39000)))
    g27  =  (square_root(33000) * (100% of 23.125)) when (f13 is given), square_root(shorter(16.125, 35000)) when (("free" is one of regular rated A) or (20.25 is given)), (10%  ft of (17.125) ^ -1) when yes, 8000 when no, 31 otherwise
    g28 "Label g28"  =  (longer((shorter(0.9 psf, 6.9 psf) / shorter(g27, g27)), ((7.8 psf when yes, 0.8 psf otherwise) when ($24.98 >= $5.15), (2.3 psf - 4.2 psf) otherwise)) * round_even(((g27 / 11.25) + (5.5 + g27)), to: 8.5))
    check c29 ("grid" is given) else stops
    check c30 ((-g26) = (0% of g26)) else stops
        "It is {g28}."
end
for rooms
    options way "Way" way_0 "Way way_0" only when (not (not yes)), way_1 "Way way_1", way_2 "Way way_2"
    g31 "Label g31"  =  (-((f1 + f1) / round_up ea (f1, to: 2.4 m)))
    g32 "Label g32"  =  ((0% of 12.5 plf) - (f2 of f4))
    g33 "Label g33"  =  2026-03-01  source practice
    g34 "Label g34"  =  f2  source practice  accepted "as it is"
        "What it is for."
end
for job
    cutting kerf 0" keep 12"
end
