book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 date
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 hours
    f3 psf  otherwise 9.7 psf
    f4 number  otherwise 16.5
    f5 weight  heading "Heading 5" or "H5"
    f6 hours  heading "Heading 6" or "H6"  otherwise 1 hr
    f7 weight  may be blank
end
for openings
    g8  =  f1 when ("north" is "rated"), f1 when (not no), f1 when no, f1 when yes, f1 otherwise
    g9 "Label g9"  =  8.2 psf  source "a handbook, table 3"
    item i10 code "ST" cut round_up((600 mm / 24000) / (13 sf / 1/2")), each (-(7.5% of (8½" when yes, 8'-6" otherwise))) waste 10% only when (yes and yes)
    item i11 code "GB" cut (((0 + 3) + (1 + 0)) when ("north" is "north"), 0 when (shorter($5.94, $15.82) <= ($37.88 when no, $31.17 otherwise)), round_up(longer(f4, f4)) when ("rated" is "regular"), ((3 + 2) when (yes or no), 3 otherwise) otherwise), each ((0% of ((29 sqm + 13 sf) / (4 ft when yes, 1/2" otherwise))) + shorter((longer(2.4 m, 16") / (5% of f4)), (-12'))) waste 0%
end
for rooms
    g12 "Label g12"  =  (0 * 1)  source practice
    g13 "Label g13"  =  "regular"  source "a handbook, table 3"
    g14 "Label g14"  =  7.5%  source "a handbook, table 3"
        "What it is for."
    check c15 (($14.71 is given) when (all of openings (((5/8" <= 2.4 m) and (yes and yes)))), (4 ft is given) otherwise) else stops
    item i16 code "XX" cut (g12 * g12), each (((g14 of 12') - shorter(12', 24")) when ((2.4 m - 8'-6") > (-5/8")), (least of openings (longer(24", 10'-3 1/2"))) when (g13 is one of regular rated), (g14 of (most of openings (12'))) otherwise) only when ((not (not no)) when ((yes when no, yes otherwise) and (no and no)), ((40 sf / 8½") <= longer(2.4 m, 4 ft)) when ((-3.7 psf) <= (1.2 psf when no, 6.1 psf otherwise)), ((no or yes) and (no and no)) otherwise)
end
