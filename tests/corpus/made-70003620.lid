book "Book 0"  edition "8"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 date
    f2 length  heading "Heading 2" or "H2"  below 12'
    f3 yes/no
    f4 date
    f5 hours
end
define d6(p0 psf) count  =  (4 * 4)
table t7 "A table"  source practice
    k0 number, between | got length
    1 | 600 mm
    2 | 24"
    3 | 18"
    4 | 18"
    5 | 2.4 m
end
table t8 "A table"  source practice
    k0 number, exact | got length
    1 | 12'
    2 | 2.4 m
    3 | 4 ft
    4 | 8'-6"
    5 | 18"
end
for rooms
    g9  =  ((10% of $1.31) - ($10.03/ft * f2)) when ((f3 is given) or (f3 when f3, f3 otherwise)), (-(-$30.51)) when ("grid" is "grid"), ((5% of $24.04) when ("regular" is "north"), ($25.80 when f3, $7.54 otherwise) otherwise) when (2024-02-29 is not f4), $11.47 otherwise
    g10 "Label g10"  =  longer((9.5 plf * f2), (22 lb when f3, 32 lb otherwise))
    g11 "Label g11"  =  (round_near(9 hr, to: 5 hr) when (round_up(round_down(f2, to: 4 ft) / (8'-6" * 21.25)) is not round_up(shorter(600 mm, 600 mm) / (f2 + f2))), shorter(((13 hr * 29.125) - f5), (7.5% of (f5 * 20.5))) otherwise)  source practice
    g12 "Label g12"  =  (4 * 0)  source practice
        "What it is for."
    g13  =  longer(23 hr, 6 hr)  source practice        "What it is for."
    check c14 ((f3 or f3) when (f3 when yes, f3 otherwise), (31 CSF > 17 CSF) otherwise) else warns
        "It is {g13}."
end
