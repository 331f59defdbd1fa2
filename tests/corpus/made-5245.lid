book "Book 0"  edition "8"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 length  otherwise 4 ft
end
define d2(p0 hours) money  =  (longer((($35.59/CLF * 20) when ("B" is "grid"), ($17.65 / 4 ft) otherwise), (longer($14.68, $5.92) / longer(600 mm, 18"))) * (10% of ((-16") * shorter(17.5, 25.25))))
define d3(p0 yes/no, p1 area) hours  =  (-4 hr)
define d4(p0 plf) percent  =  0% when (longer(39.25, 6) >= (-33000)), 5% when ((7.4 psf + 1.2 psf) > 1.9 psf), 5% when ((3 sf > 31 sqm) or (10% is given)), 100% otherwise  source "a handbook, table 3"
        "What it is for."
for rooms
    check c5 ((("north" is "regular") or ((f1 * 12') < (20 sf * 32000))) when ((shorter($31.49, $37.94) = round_near($2.98, to: $4.10)) and (("north" is given) when (not yes), (yes when no, no otherwise) otherwise)), ((("north" is "A") when (yes and yes), no otherwise) or yes) otherwise) else notes
    labor i6 code "L-BRD" need (round_up((5 sqm * 30.25), to: 31 sqm) * longer((-27.5), (15000 + 37))) rate 0.09 hr/sf
    item i7 "Thing i7" code "ST" need longer((((1.0 psf + 4.2 psf) * (24 sf / f1)) * ((f1 * 16") / (32 CSF / f1))), 12 lb) waste 10%
    item i8 "Thing i8" code "HW" need longer((longer(f1, f1) * (3 sf / f1)), ((2 CSF / 25.125) - (28 sf * 11.5))) only when ((("regular" is "free") and (no and no)) when (13 hr is given), (2026-11-25 >= (2024-02-29 when yes, 2024-02-29 otherwise)) otherwise)
end
example "case 8"
    rooms  id "0"
    shows ((shorter(longer(0.9 psf, 0.1 psf), round_down(4.9 psf, to: 1.0 psf)) - (7.5% of 3.4 psf))) = 7.8 psf
end
example "case 8"
    rooms  id "0"  f1 24"
    rooms  id "1"  f1 16"
    shows f1 = 2.4 m
    shows f1 = 600 mm
    shows (shorter((shorter(36 hr, 24 hr) + 10 hr), ((17 hr - 13 hr) + 15 hr))) = 13 hr
end
