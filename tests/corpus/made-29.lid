book "Book 0"  edition "8"
rows rooms  from "Rooms"
    id text key
    f1 plf  heading "Heading 1" or "H1"  otherwise 12.5 plf
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 hours
    f3 number  may be blank
    f4 plf
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f5 length  heading "Heading 5" or "H5"  above 24"  otherwise 18"
    f6 text
    f7 text  one of regular rated A B grid free moisture north  otherwise regular
end
define d8(p0 date, p1 count, p2 number otherwise 32.5, p3 $/ft otherwise $14.08/m) number  =  (shorter(longer(p2, p2), (3000 * p2)) + (longer(p2, p2)) ^ 2)
define d9(p0 psf, p1 percent) length  =  (p1 of (((39 sf * 24000) / (0% of 1/2")) / (-d8(p0: 2024-02-29, p1: 1, p2: 10, p3: $11.84/m))))
define d10(p0 length, p1 text, p2 length) percent  =  7.5%
table t11 "A table"
    k0 text, exact | got money
    regular | $8.33
    rated | $14.57
    A | $25.80
end
for rooms
    g12  =  ((((10% of 22 sf) / longer(5/8", 600 mm)) / ((7.5% of 28.125) * (-7.5))) * (-((19 CSF + 3 CSF) / (14 sf / 1/2"))))
    check c13 ("free" is "rated") else stops
        "It is {g12}."
    check c14 (("B" is "grid") when ((not yes) or (all of openings (no))), ("B" is one of regular rated A B) when (("rated" is "B") or ("A" is "regular")), ((14 is not 23.5) when ("free" is "moisture"), (no and yes) otherwise) otherwise) else warns
        "It is {g12}."
    item i15 "Thing i15" code "HW" need (((-f1) * round_even(10'-3 1/2", to: 10'-3 1/2")) when (2 is given), (-(4 lb * 21.125)) when ((8 >= 12) and (2024-02-29 is given)), (f1 * 4 ft) otherwise)
    labor i16 code "L-BRD" need longer(shorter(600 mm, 16"), (600 mm / 17.5))
    item i17 code "AN" cut ((round_up(29.25) * (4 + 2)) * round_up(d8(p0: 2026-03-01, p1: 2, p2: 9000, p3: $15.14/CLF))), each d9(p0: (-8.8 psf), p1: d10(p0: 10'-3 1/2", p1: "regular", p2: 2.4 m)) waste 5% only when ((g12 - g12) = (g12 - g12))
end
for bays
    g18 "Label g18"  =  ((($20.17 * 19.125) / f5) * f5)
        "What it is for."
    g19 "Label g19"  =  f6
    check length_20 (not (f5 is given)) else notes
        "It is {g19}."
    item i21 code "ST" cut (1 + 2), each (((f5 / 21.5) / (0% of 22.25)) when ((no when yes, yes otherwise) and (5.1 psf < 8.6 psf)), shorter((f5 when no, f5 otherwise), shorter(f5, 8½")) when ((5% is given) and (f5 is not f5)), (7.5% of round_down(f5, to: 10'-3 1/2")) when ((f5 * 16") = (600 mm * f5)), f5 when no, f5 otherwise) waste 0%
end
for openings
    g22  =  "A" when (2026-03-01 > 2026-03-01), "free" when (20 lb is given), "regular" otherwise  source practice
    g23 "Label g23"  =  round_up((shorter((12' - 16"), shorter(16", 600 mm)) / (-(f3 / f3))) / ((shorter(13 sf, 6 sqm) / (10'-3 1/2" * f3)) + ((5 sf when yes, 30 sf otherwise) / (10'-3 1/2" + 24"))))  source "a handbook, table 3"
end
for job
    j0_0 "Figure 0"  =  count of rooms
    j0_1 "Figure 1"  =  count of rooms
    j0_2 "Figure 2"  =  ($14.45/CLF * 2.4 m)
    cutting kerf 0" keep 12"
end
example "case 23"
    rooms  id "0"
    rooms  id "1"  f1 29.5 plf
    openings  id "0"  f2 9 hr  f3 29.5  f4 34.5 plf
    bays  id "0"  f5 12'  f7 grid
    bays  id "1"  f5 24"  f6 moisture  f7 A
    shows f1 = 7.5 plf
    shows (((14 sf / 2.4 m) / (10% of 4 ft))) = 6000
    shows (shorter((36 lb + 7 lb), (35 lb + 15 lb))) = 17 lb
end
example "case 23"
    rooms  id "0"  f1 6.5 plf
    rooms  id "1"  f1 4.5 plf
    bays  id "0"  f5 16"
    shows ((28 lb + 10 lb)) = 32 lb
    shows (5%) = 0%
end
