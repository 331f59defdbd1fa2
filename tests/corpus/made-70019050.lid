book "Book 0"  edition "7"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 count  heading "Heading 1" or "H1"  above 0
    f2 length  heading "Heading 2" or "H2"
    f3 date
    f4 date  heading "Heading 4" or "H4"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 date  otherwise 2026-03-01
    f6 money  heading "Heading 6" or "H6"  above $11.92  may be blank
    f7 yes/no  heading "Heading 7" or "H7"
    f8 $/ft  otherwise $10.15/m
end
define d9(p0 psf) count  =  round_up(12' / 12')  source "a handbook, table 3"
table t10 "A table"  source practice
    k0 text, exact | k1 length, from | got count
    regular | 8" | 2
    rated | 16" | 2
    A | 24" | 3
end
table t11 "A table"
    k0 count, exact | k1 text, exact | k2 number, between | got count
    1 | rated | 1 | 3
    2 | A | 2 | 4
end
for openings
    g12  =  shorter(longer(4.7 psf, 9.3 psf), (1.7 psf - 9.2 psf))  source practice
    g13 "Label g13"  =  ((0.5 plf + 36.5 plf) * (f2 / f2))
    g14 "Label g14"  =  ("A" when no, "grid" otherwise)
    g15 "Label g15"  =  (f8 when f7, f8 otherwise)  accepted "as it is"
    g16  =  0%  source practice  accepted "as it is"
    check c17 (g14 is "grid") else warns
end
for rooms
    g18 "Label g18"  =  (f2 > f2)
    g19  =  "A" when (shorter(31 sf, 15 CSF) > (20 sf / 27)), "free" when ($39.88 is given), "grid" when ((2024-02-29 is not f3) and (any of openings (no))), "regular" when ("moisture" is one of regular), "north" otherwise
    g20 "Label g20"  =  ((all of openings (f7)) when (f4 < f3), (g19 is one of regular rated A) otherwise)  source practice
    g21 "Label g21"  =  ((least of openings (30 hr)) - 29 hr)
        "What it is for."
    item i22 "Thing i22" code "XX" need ((round_up(shorter(4 ft, f2) / (f2 when no, f2 otherwise)) + f1) * (round_up((13 + 26)) when ((34 sf is given) when (all of openings (f7)), (g19 is one of regular rated A B) otherwise), ((count of openings where f7) * f1) otherwise)) only when ((2026-03-01 >= f3) when (((9.5 psf > 6.8 psf) when (f2 <= f2), (f4 >= f4) otherwise) when ((-f2) > longer(18", f2)), (g19 is "rated") otherwise), (g18 and g20) otherwise)
    item i23 code "ST" cut f1, each (f2 when g20, f2 otherwise)
end
for job
    total "Total"  =  sum of lines (cost)
end
example "case 23"
    rooms  id "0"  f1 4  f2 12'  f4 2024-02-29
    openings  id "0"  f5 2026-03-01  f6 $37.66  f7 no  f8 $16.80/ft
    shows ((((16" * 39.25) - (-5/8")) * (longer(2.25, 0000)) ^ 0)) = 1/2"
    shows ((0.5 plf * 10'-3 1/2")) = 24 lb
end
