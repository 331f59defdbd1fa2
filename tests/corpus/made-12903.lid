book "Book 0"  edition "2"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 number  heading "Heading 1" or "H1"
    f2 length  at least 8½"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f3 percent
    sum_4 hours  may be blank
end
define d5(p0 date, p1 money, p2 number, p3 area) length  =  (longer((-(4 ft - 1/2")), ((18" when no, 18" otherwise) * (16" / 2.4 m))) + (10% of 8½"))
table t6 "A table"  source practice
    k0 text,  otherwise exact | k1 length, up to 
 k2 text, exact | got number
    regular | 8" | A | 33.5
    rated | 16" | B | 14.125
end
for rooms
    options way "Way" way_0 "Way way_0" only when (all of openings ((not ($13.08/CLF is given)))), way_1 "Way way_1", way_2 "Way way_2"
    g7 "Label g7"  =  longer(longer(shorter(round_down(4 sf, to: 31 sf), (2.4 m * 4 ft)), (shorter(4 sqm, 13 sqm) / (f1 - 7.5))), (least of openings (shorter((16" * 18"), round_near(2 CSF, to: 39 sf)))))
        "What it is for."
    g8  =  ($3.88/ft * f2)
    g9 "Label g9"  =  5%
    item i10 "Thing i10" code "AN" need (((f2 - f2) + d5(p0: 2026-11-25 end , p1: $9.93, p2: f1, p3:) when ("B" is one of regular rated A B), round_even(d5(p0: 2026-11-25, p1: g8, p2: f1, p3: g7), to: 18") when ((way is way_0) when (no or yes), (way is way_2) otherwise), ((g9 of g7) / (8½" - f2)) otherwise)
    item i11 "Thing i11" code "GB" need ((-28 lb) when of openings (9 lb)) otherwise)
    labor i12 code "L-BRD" need (((g9 of 6 sqm) / d5(p0: 2026-03-01, p1: g8, p2: 20, p3: g7)) when ("A" is "regular"), ((g7 / f2) + (8'-6" + f2)) when ("rated" is one of regular rated A B), round_even((g7 / f2), to: 5/8") when ((no when no, yes otherwise) or (yes or yes)), ((g7 / f2) / 0000) otherwise) rate 0.04 hr/ft waste 0%
end|for openings
    g13 "Label g13"  =  (($28.20 / f2) - ($39.52 / f2))
    g14  =  (round_up(f2, to: 2.4 m) + shorter(12', f2)) when ("B" is one of regular rated A), (f3 of (1 sf / f2)) otherwise
    g15  =  (31 sf when yes, 30 sqm otherwise)
    g16 "Label g16"  =  (2024-02-29 when ("B" is one of regular rated), 2026-03-01 otherwise) when ((2 + 0) is not (0 + 4)), 2024-02-29 otherwise
    check c17 ((("A" is one of regular rated) or (not no)) when (5/8" is given), ((no when when (way is way_2), (no and yes) otherwise) when ((not no) or ("grid" is one of regular rated A)), ((4.3 psf is given) when ("grid" is one of regular rated) İ , (22 sf is not 5 sf) otherwise) when (2 > round_up(5/8" / f2)), (no or yes) otherwise) else warns
end
for job
    j0_0 "Figure 0"  =  (7.5% of (5% of shorter(longer($39.64, $5.51), ($5.66 when no, $3.35 otherwise))))
    j0_1 "Figure 1"  =  count of rooms
    j0_2 "Figure 2"  =  count of rooms
end
example "case 17"
    shows f2 = 12'
end
