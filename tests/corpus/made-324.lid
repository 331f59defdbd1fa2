book "Book 0"  edition "8"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 yes/no  otherwise yes
    f2 count
    f3 text  otherwise free
    f4 text  one of regular rated A B grid free moisture north  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 weight  from 36 lb to 20 lb  may be blank
    f6 plf  heading "Heading 6" or "H6"  above 12.5 plf
    f7 percent  heading "Heading 7" or "H7"
    f8 date
    f9 yes/no  may be blank
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f10 yes/no  heading "Heading 10" or "H10"  otherwise yes
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f11 $/ft  below $34.78/CLF
    f12 $/ft  heading "Heading 12" or "H12"  below $31.65/MLF
    f13 $/ft
end
define d14(p0 area) psf  =  ((round_down(7.4 psf, to: 5.2 psf) + 7.5 psf) * ((-35.5) + (15.125 / 29000)))  source "a handbook, table 3"
define d15(p0 number) money  =  (($29.47/ft + $8.00/CLF) * (-12')) when (round_up(p0, to: 26000) is not p0), $31.10 otherwise
define d16(p0 length) $/ft  =  (round_near(shorter($14.12/m, $35.45/CLF), to: $7.49/ft) / round_up((11000 * 34000), to: 23.125))  source practice
for openings
    g17 "Label g17"  =  shorter(3.8 psf, 5.3 psf)  source "a handbook, table 3"
    g18  =  ((sum of cuts ((6 CSF * 2.25))) - (shorter(26 sf, 12 sqm) * (sum of cuts (25.125))))
    g19  =  (f8 when (f9 when f9, f9 otherwise), 2026-11-25 otherwise)
        "What it is for."
    g20 "Label g20"  =  (g17 * 24")
    g21 "Label g21"  =  (21.125 is not 11.25)
    g22 "Label g22"  =  g19
    item i23 "Thing i23" code "AN" need (((f5 + 34 lb) + round_near(f5, to: 26 lb)) when (f4 is "rated"), f5 when f1, f5 otherwise)
end
for bays
    g24 "Label g24"  =  (((5/8" * 29) + (-1/2")) * (100% of 12'))
    g25 "Label g25"  =  (g24 / 600 mm)  accepted "as it is"
    item i26 code "ST" cut (round_up((12 sqm / g25) / (g25 - g25)) when (f10 is given), (round_up(g25 / g25) * f2) otherwise), each (10'-3 1/2" + g25)
end
for cuts
    g27  =  (longer(($9.58 / 5/8"), ($0.66 / 600 mm)) + (-(-$17.34/CLF)))
    g28 "Label g28"  =  (-((9.3 psf + 6.0 psf) * (1.25 when f9, 24.125 otherwise)))
    g29 "Label g29"  =  ((6 sf * 18000) / (23.125 * 0000))
    g30  =  square_root((18.5 - 28.125))
    g31  =  ((round_up(g30) + (3 * 1)) + round_up((g30) ^ 0))
    check c32 (("regular" is "north") or ("grid" is given)) else stops
        "It is {g31}."
    check c33 ((f9 when f9, f9 otherwise) when (2.4 m = 8'-6"), (no and f9) otherwise) else stops
    item i34 "Thing i34" code "HW" need round_up(30.125) waste 10%
end
for rooms
    g35 "Label g35"  =  2024-02-29 when (($33.99 is not $5.06) or (all of bays (yes))), 2024-02-29 when ((38 sf <= 23 CSF) or (37 = 11.25)), 2026-03-01 when yes, 2026-03-01 otherwise
    key_36 "Label key_36"  =  f3  source "a handbook, table 3"
    g37 "Label g37"  =  ($32.47/CLF * 24")  source "a handbook, table 3"
    g38 "Label g38"  =  (($12.80/CLF + $38.92/ft) + round_even($33.52/m, to: $1.15/ft)) when (($6.83/CLF * 18") < (g37 * 4)), longer(round_down($33.46/m, to: $20.83/CLF), (-$14.47/CLF)) when (key_36 is one of regular), round_down((g37 / 8½"), to: $21.75/m) when (not (f4 is "moisture")), ($22.13/ft + $33.58/ft) when yes, $17.19/m otherwise
    g39  =  100%
    g40  =  (-g37)  accepted "as it is"
end
