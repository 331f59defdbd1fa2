book "Book 0"  edition "8"
rows rooms  from "Rooms"
    id text key
    f1 money  from $17.46 to $35.21  may be blank
    f2 percent  from 10% to 0%
    f3 text
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f4 length  heading "Heading 4" or "H4"  from 24" to 16"  may be blank
    f5 hours  below 6 hr  may be blank
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f6 money  below $1.52  otherwise $4.44
    f7 money  at least $13.44
    f8 psf  below 4.0 psf  otherwise 1.2 psf
    f9 date
    f10 psf  heading "Heading 10" or "H10"  otherwise 7.5 psf
    f11 date  heading "Heading 11" or "H11"
    f12 length
end
define sum_13(p0 yes/no) yes/no  =  (36 lb is given)
define d14(p0 hours, p1 percent otherwise 0%, p2 plf) plf  =  round_down((4.9 psf * 5/8"), to: 4.5 plf) when ((p1 of 10.5) < (37.5) ^ -1), ((8.8 psf + 3.5 psf) * (600 mm when yes, 24" otherwise)) when ("regular" is "free"), (round_near(9.2 psf, to: 9.3 psf) * (8'-6" + 24")) when (round_near($18.84, to: $17.84) is not $9.23), 10.5 plf when no, p2 otherwise
        "What it is for."
define d15(p0 yes/no, p1 count otherwise 1) plf  =  (-shorter((1.2 psf * 1/2"), (8.4 psf * 18")))  accepted "as it is"
table t16 "A table"  source practice
    k0 number, from | got text
    1 | A
    2 | free
    3 | rated
    4 | grid
    5 | north
end
for openings
end
for bays
    g17  =  ((f2 of (f8 when (f3 is one of regular rated A B), (f8 when no, 9.4 psf otherwise) otherwise)) >= f8)  source "a handbook, table 3"
    check c18 (not ((f7 > f1) or (not g17))) else notes
        "It is {g17}."
    check c19 ((g17 and no) or (not yes)) else warns
    labor i20 code "L-BRD" need (((0 when g17, 1 otherwise) when (f3 is one of regular rated A), 4 otherwise) when (f8 > (-f10)), ((4 * 4) * (4 + 0)) when ((f12 when g17, f12 otherwise) < (2.4 m - f12)), (round_up(8000) when (g17 when g17, g17 otherwise), 1 otherwise) when (f3 is "grid"), 1 otherwise) rate 0.03 hr/ea waste 7.5%
end
for rooms
    g21 "Label g21"  =  ((sum of bays (3)) when (f1 <= f1), (most of openings (15.125)) otherwise)
    g22  =  (-(12 sqm + 2 CSF))
        "What it is for."
    g23 "Label g23"  =  (sum of openings (round_even(longer(34.5 plf, 26.5 plf), to: 4.5 plf)))
    g24  =  ((21 CSF - g22) / (most of bays (10'-3 1/2"))) when (any of openings ((600 mm >= 10'-3 1/2"))), ((f2 of g22) / (5/8" when no, 16" otherwise)) when (f3 is one of regular rated), round_near((f2 of 2.4 m), to: 10'-3 1/2") when ("moisture" is "grid"), ((34 sf / 2.4 m) + (18" - 16")) when ((f1 <= $6.99) when (no when yes, yes otherwise), no otherwise), 4 ft otherwise
        "What it is for."
    g25 "Label g25"  =  longer(g21, 25)  source practice
    rate_26 "Label rate_26"  =  f2
end
example "case 26"
    openings  id "0"  f4 10'-3 1/2"  f5 22 hr
    bays  id "0"  f6 $26.33  f7 $22.35  f8 8.6 psf  f9 2026-03-01  f10 7.9 psf
    shows f2 = 0%
    shows f2 = 7.5%
    shows (2026-03-01) = 2026-11-25
end
