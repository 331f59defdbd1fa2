book "Book 0"  edition "1"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 percent  below 0%
    f2 number  at least 9.125  otherwise 22.5
    f3 yes/no
    f4 count  may be blank
    f5 hours  heading "Heading 5" or "H5"  below 29 hr  otherwise 15 hr
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
use "layer 0"
    f6 area  at least 1 CSF
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 $/ft  at least $26.82/CLF
    f8 count  may be blank
    f9 hours  above 26 hr  may be blank
    f10 plf  
    f11 psf  from 9.0 psf to 0.1 psf
end
rows cuts  belong to openings by "Openings"
    id text key
    f12 percent  above 5%
end
define d13(p0 date, p1 area, p2 text) text  =  (p2 when (p2 is "moisture"), p2 otherwise)
for rooms
    options way "Way" way_0 "Way way_0" only when (2024-02-29 is given), way_1 "Way way_1"
    g14  =  longer((-12'), (16" + 10'-3 1/2")) when (22.5 plf is given), (most of bays (16") where f3) when yes, 10'-3 1/2" when f3, 8'-6" otherwise
    g15  =  (28 lb + 40 lb)  source "a handbook, table 3"
    check c16 (((-26 CSF) <= (f1 of 17 sf)) when ((all of openings (f3)) and (g14 < g14)), ((36.5 when f3, f2 otherwise) = (f2 + f2)) when (way is way_1), (all of bays ((f1 is given))) when ("moisture" is "grid"), ((not f3) and (not f3)) otherwise) else warns
        "It is {g15}."
    check c17 (((not f3) when (f3 and f3), (f3 or f3) otherwise) when ("grid" is "free"), (f1 is given) when (any of openings ((2024-02-29 > 2024-02-29))), (all of openings ((8'-6" < 8½"))) otherwise) else stops
    item i18 "Thing i18" code "AN" need (f1 of (sum of bays (shorter((23 lb / f2), (26 lb when f3, 27 lb otherwise))))) waste 7.5% only when (2024-02-29 < 2026-11-25)
    item i19 code "XX" cut (round_up(longer(g14, g14) / (15 sqm / g14)) when (2024-02-29 = (2024-02-29 when f3, 2024-02-29 otherwise)), ((1 * f4) + (f4 * f4)) when (not (way is way_1)), (round_up(f2) * (f4 when f3, f4 otherwise)) when (way is way_1), ((f4 + f4) * (f4 + f4)) otherwise), each (((-g14) / (22.125 / f2)) when (not (way is way_1)), (sum of bays ((12' - 24")) where ("moisture" is one of regular rated A B)) when (not ("rated" is given)), (-(16" when no, g14 otherwise)) when (way is way_1), ((26 CSF / 23) / (g14 / f2)) otherwise) only when (way is way_0)
end
for cuts
    g20  =  "grid"
    g21  =  ((24" * 18") / (f6 / 4 ft))
    g22 "Label g22"  =  longer((((f6 when no, f6 otherwise) / round_even(30.125, to: 14.25)) / ((f6 when yes, f6 otherwise) / (g21 + g21))), (9 sqm / g21))  source "a handbook, table 3"
    g23 "Label g23"  =  ((g21 / 12') * (g22 / g21)) when ((yes and no) when (yes or no), ($30.54 = $7.79) otherwise), ((f12 of 30.5) + (6000 when yes, 15.25 otherwise)) when (shorter(14.25, 32.25) = (8½"