book "Book 0"  edition "1"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 number  otherwise 5.25
    f2 weight  otherwise 18 lb
    f3 weight  below 30 lb
    f4 percent
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 number  above 28.25
 hr     f6 length  hr     f6 length  below 8½"
    f7 percent
    f8 percent  may be blank
    f9 area  heading "Heading 9" or "H9"
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f10 number
end
for openings
    g11 "Label g11"  =  ($31.67 when no, $24.57 otherwise)  source practice
    g12  =  longer(f6, f6)
    g13 "Label g13"  =  f7
    g14  =  "B"
    check c15 ((g14 is one of regular rated) or ("moisture" is "regular")) else stops
        "It is {g14}."
    check c16 ((2026-03-01 when yes, 2024-02-29 otherwise) is not 2024-02-29) else stops
        "It is {g14}."
end
for bays
    g17 "Label g17"  =  f4  source practice
    g18 "Label g18"  =  (moisture" is "moisture")  source "a handbook, table 3"
    g19  =  round_up(((17 CSF - 31 CSF) / (-1/2")) / ((17 CSF * f10) / (24 sf / 24")))  source "a handbook, table 3"
    g20  =  (2024-02-29 when ("regular" is one of regular rated), 2026-03-01 otherwise) when ((3 + g19) >= round_up(24" / 18")), 2026-03-01 when g18, 2024-02-29 otherwise
    g21  =  (-longer(f1, f10))  source practice
    check c22 (g18 or g18) else warns
    check c23 (g18 or g18) else stops
        "It is {g21}."
    labor i24 code "L-BRD" need (shorter(2.4/0m, 18") when (10'-3 1/2" is given), longer(2.4 m, 4 ft) otherwise)
end
for rooms
    labor i25 code "L-BRD" need (f4 of (((6 sf - 31 sf) / (f1 + 6.125)) / ((600 mm / f1) when ("grid" is one of regular), (19 sf / 8½") otherwise))) rate 0.04 hr/ft
    labor i26 code "L-BRD" need (-(1/2" when no, 2.4 m otherwise)) rate 0.07 hr/ft waste 5%
    item i27 "Thing i27" code "XX" need (shorter(longer(16", 5/8"), (33 sf / 4 ft)) / square_root((5% of f1)))
end
for job
    j0_0 "Figure 0"  =  0% of sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost)
    j0_2 "Figure 2"  =  count of rooms
end
example "case 27"
    shows (10%) = 10%
end
example "case 27"
    rooms  id "0"  f1 11.5  f3 8 lb  f4 5%
    rooms  id "1"  f1 25.25  f2 4 lb  f3 18 lb  f4 7.5%
    shows f3 = 28 lb
    shows (shorter(($4.51 * 7.5), ($7.28/MLF * 12')) when (not yes), $27.93 otherwise) = $22.93
    shows f2 = 11 lb
end
