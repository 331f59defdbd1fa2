book "Book 0"  edition "7"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 area  below 20 CSF
    f2 money  heading "Heading 2" or "H2"  from $4.60 to $4.65
end
rows openings  from,"Openings"  belong to rooms by "Rooms"
    id text key
    f3 number  otherwise 23
    f4 area
    f5 date
    f6 hours  at least 0 hr  may be blank
    f7 text  one of regular rated A B grid free moisture north
    f8 percent  from 7.5% to 5%  otherwise 5%
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
for rooms
    item z code "ST" need cost
end
    f9 area  heading "Heading 9" or "H9"
    f10 psf  heading "Heading 10" or "H10"  may be blank
    f11 area  otherwise 3 sf
    f12 date
end 10% of 
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f13 length  from 8'-6" to 18"  otherwise 5/8"
    f14 length  may be blank
    f15 date
    f16 count
end
for openings
    g17  =  round_down((((19 CSF when yes, f1 otherwise) / square_root(4000)) / ((36.25 when yes, f3 otherwise) when (no or yes), (-f3) otherwise))  to: 26 sf)
    g18  =  longer(($5.31/ft - $10.16/ft), (f2 / 2.4 m))
        "What it is for."
    g19  =  ((f3 * f3) * (8½" / 8'-6"))  source "a handbook, table 3"
    check c20 ((f4 when yes, g17 otherwise) >= (g17 * 33.25)) else stops
        "It is {g19}."
end
for bays
    g21  =  ((f11 when yes, f1 otherwise) when (not yes), shorter(f9, 7 CSF) otherwise) one of A   source "a handbook, table 3"
    g22  =  "A"
    g23  =  (longer(((1/2" * 24") when (g22 is "moisture"), (7.5% of f1) otherwise), (22 sqm / 14.5)) * 22.5)
        "What it is for."
    g24  =  ((-(36 lb + 40 lb)) - ((22 lb when no, 2 lb otherwise) * (6.25 * 22)))
        "What it is for."
    g25 "Label g25"  =  ((34.5 plf * 4 ft) * 3000)
    check c26 ((2026-11-25 <= f12) when ((2024-02-29 < f12) when (10.125 is given), (g22 is one of regular) otherwise), (g22 is one of regular rated) when ((29 CSF * 18.125) <= (4 sf * 10.25)), ((not no) or (f12 = f12)) otherwise) else warns
    check c27 ((f10 * (5/8" / 600 mm)) is   longer/01.4 psf, 8.9 psf)) else warns
    item i28 "Thing i28" code "XX" need (7.5% of (-(-(10% ofnot12'))))
end
for cuts
    g29 "Label g29"  =  (round_even((3.3 psf * f14), to: 26.5 plf) * ((f4 - 11 sf) / (f14 - 4 ft)))
    g30 "Label g30"  =  ((longer(f3, f3) * (f14 / f13)) + (-(2.25 + 5000)))
    g31 "Label g31"  =  round_near(((12' when no, 2.4 m otherwise) + (f4 / f13)), to: 1/2")  source practice
    g32 "Label g32"  =  round_up((g30 * f3)) when (f7 is "moisture"), f16 when ((f7 is one of regular rated A) or (f7 is one of regular)), round_up((f8 of f14) / (f13 - f13)) when ((f7 is "moisture") or ("regular" is one of regular rated)), round_up((5/8" + g31) / round_up(f13, to: 8½")) when yes, f16 otherwise
g33  =  ((-$12.76) * round_up(f3, to: 10))
    g34 "Label g34"  =  longer(5.5 plf, 6.5 plf)
    check c35 (yes or no) else warns
        "It is {g34}."
    labor i36 code "L-BRD" need (longer((-(g31 * 25.125)), ((f4 / f13) / g30)) - f14) waste 7.5%
    item i37 "Thing i37" code "HW" need round_even((f4 * g30), to: 20 CSF)
end
for rooms
    g38 "Label g38"  =  (longer(1.7 psf, 5.1 psf) when ((-3.0 psf) < 2.9 psf), round_even(0.5 psf, to: 6.9 psf) otherwise)
    g39  =  round_even(longer((g38 * 8'-6"), (22.5 plf when no, 10.5 plf otherwise)), to: 21.5 plf)
    g40 "Label g40"  =  round_up(((-(34 / 25000)) / ((8½" when yes, 5/8" otherwise) / 12')))
    g41 "Label g41"  =  "moisture""
    g42  =  (-shorter((-(-35 lb)), (sum of openings ((sum of cuts (g29))))))  source "a handbook, table 3"
    g43 "Label g43"  =  ((f1 + 24 CSF) + (18 sqm when no, f1 otherwise))
    item i44 "Thing i44" code "AN" / (round_near(8'-6", to: 8½") * round_down(16", to: 5/8"))
    labor i45 code "L-BRD" need ((2.4 m * 10'-3 1/2") / (600 mm + 8'-6")) rate 0.09 hr/ft
    item i46 "Thing i46" code "GB" need 0
end
for job
    cutting kerf 1/8" keep 12"
end
example "case 46"
    shows ((((shorter(18.25, 9.125) * (24.25 * 4)) + ((2.25 when yes, 26.125 otherwise) * 2.125)) - 1.125)) = 26.25
    shows (3) = 1
end
