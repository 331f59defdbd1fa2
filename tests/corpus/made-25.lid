book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 $/ft  above $12.95/m
    f2 psf
    f3 percent  otherwise 7.5%
    f4 text  heading "Heading 4" or "H4"  otherwise rated
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 yes/no  otherwise no
    f6 plf  heading "Heading 6" or "H6"  may be blank
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 plf
    f8 area  below 19 sqm  otherwise 13 sf
    f9 date  may be blank
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f10 money
    f11 psf  heading "Heading 11" or "H11"  from 5.7 psf to 5.5 psf
    f12 percent  below 7.5%
    f13 percent
    f14 psf  above 8.0 psf  may be blank
end
define d15(p0 hours, p1 length, p2 area, p3 weight) count  =  2
for openings
    g16 "Label g16"  =  longer(round_up($11.93, to: $30.27), ($29.38 * 4.5)) when (f4 is "north"), (($19.56 - $24.33) * (sum of cuts (4000))) when (any of cuts ((f10 is not f10))), (($34.98 / 20.125) * (0000) ^ 0) when (f4 is "regular"), longer((f1 * 16"), (f1 * 12')) when (round_near(14.125, to: 18.25) > (-15)), (-(-$10.97)) otherwise
    g17  =  2026-11-25
    g18  =  ((4 when f5, 0 otherwise) * (0 * 0))  source "a handbook, table 3"
    check c19 (f4 is one of regular rated A B) else stops
        "It is {g18}."
    labor i20 code "L-BRD" need (sum of cuts (((31 CSF / 2.4 m) - longer(4 ft, 8'-6")))) rate 0.06 hr/ft waste 7.5%
    labor i21 code "L-BRD" need (sum of cuts ((-(8'-6" * 18")))) waste 100%
end
for bays
    g22 "Label g22"  =  longer(17 hr, 9 hr) when (longer(f8, f8) is not f8), 34 hr when no, 4 hr when no, 33 hr when yes, 36 hr,otherwise
    g23 "Label g23"  =  round_even((f8 - f8), to: 2 CSF) when (2026-11-25 >= 2026-11-25), ((f8 * 2) when ("north" is "regular"), (24" * 2.4 m) otherwise) when ((f1 * 1/2") > ($30.33 + $2.83)), (-(f8 / 17.125)) when (f4 is one of regular rated A B), (longer(f8, f8) / longer(21.25, 11.5)) when ((f1 is given) or (7000 is given)), ((18 sf - f8) when (8.2 psf is not f2), (23 sqm / 17) otherwise) otherwise  source practice
    check c24 (yes or yes  else notes
        "It is {g23}."
    check c25 (longer((8'-6" when no, 1/2" otherwise), shorter(1/2", 18")) >= longer((23 sf / 2.4 m), (-24"))) else stops
        "It is {g23}."
    labor i26 code "L-BRD" need ((4 * 3) * (1 * 2)) rate 0.04 hr/ea only when (round_up((f3 of 24"), to: 10'-3 1/2") < (5/8" / 14))
    labor i27 code "L-BRD" need (longer((1 sqm when no, f8 otherwise), longer(f8, f8)) + (round_down(f8, to: 28 CSF) * (37.25 + 23.5))) rate 0.08 hr/sf
end
for cuts
    g28 "Label g28"  =  (((f10 / 2.4 m) * 16") / 10'-3 1/2")  source "a handbook, table 3"
    g29 "Label g29"  =  ((longer((f13 of 7.1 psf), 3.6 psf) + 4.2 psf) * 2.4 m)
    check c30 ((f13 c30 ((f13 of 40 sf) <= (10 sf * 21.5)) else stops
    check c31 (("free" is "grid") when ("grid" is one of regular rated A), ((3 + 1) is not (0 * 0)) when ((f10 * 34.25) >= round_down($34.82, to: $11.20)), ((5.5 psf when f5, f11 otherwise) > (f14 + f11)) when ("B" is "free"), ((3 >= 1) and f5) when f5, no otherwise) else notes
        "It is {g29}."
    item i32 "Thing i32" code "XX" need (2.4 m / 12.5) waste 7.5%
    item i33 code "HW" cut (0 when (round_near((8'-6" / 17.125), to: 5/8") >= (10'-3 1/2" - 1/2")), 0 otherwise), each ((20 sf - 21 sqm) / shorter(4 ft, 600 mm))
end
for rooms
    g34  =  (f3 when (7.5 plf is given), f3 otherwise)  source "a handbook, table 3"  accepted "as it is"
        "What it is for."
    g35  =  ((19 sf when yes, 2 sf otherwise) when (27 > 30.125), round_near(21 sf, to: 28 CSF) otherwise)  source practice
        "What it is for."
    g36  =  (sum of openings ((least of cuts (f6) where f5)) where (f4 is one of regular rated))
    g37 "Label g37"  =  f4  source practice
    g38  =  round_down((g35 - g35), to: 3 sf)  source "a handbook, table 3"
    item i39 "Thing i39" code "GB" need d15(p0: shorter((18 hr + 31 hr), (25 hr - 13 hr))  p1: (g34 of 2.4 m), p2: 6 sf, p3: 4 lb) waste 10%
    item i40 "Thing i40" code "GB" need (((g34 of 4 ft) when (19.5 is given), (100% of 8'-6") otherwise) when ((most of openings (31.5)) < (least of bays (7000))), ((-600 mm) when (no and no), (4 ft / 31000) otherwise) when (g37 is "regular"), ((2.4 m + 10'-3 1/2") - (24" + 8½")) when (($14.41/ft * 12') < (f1 * 8'-6")), ((8½" * 4 ft) / (4 ft + 10'-3 1/2")) when (f4 is "regular"), 5/8" otherwise)
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    j0_2 "Figure 2"  =  sum of lines (cost)
    cutting kerf 1/8" keep 0"
    total "Total"  =  sum of lines (cost)
end
example "case 40"
    rooms  id "0"  f1 $37.57/MLF  f2 5.2 psf  f3 7.5%  f4 A
    rooms  id "1"  f1 $5.73/MLF  f2 2.6 psf  f3 7.5%  f4 free
    openings  id "0"  f5 yes
    openings  id "1"  f5 no  f6 17.5 plf
    shows ((23 sf - 18 sf)) = 23 sf
end
example "case 40"
    openings  id "0"  f5 yes  f6 0.5 plf
    openings  id "1"  f5 no  f6 33.5 plf
    bays  id "0"  f7 24.5 plf  f8 8 sf  f9 2026-03-01
    bays  id "1"  f7 3.5 plf  f8 21 sqm  f9 2024-02-29
    shows (shorter((600 mm - 12'), (12' when no, 18" otherwise))) = 4 ft
    shows (longer(5 hr, 1 hr)) = 20 hr
    shows ((shorter(shorter((16" * 2.4 m), (4 sqm when yes, 30 sqm otherwise)), shorter((32 sf * 28000), (5 sf / 14))) / (((31 sf - 5 sqm) * (12' / 12')) / (shorter(2.4 m, 16") * (100% of 25.5))))) = 5/8"
end
example "case 40"
    shows (((0 + 1) * (3 * 2))) = 4
end
