book "Book 0"  edition "7"
rows rooms  from "Rooms"
    id text key
    f1 hours  at least 22 hr
    f2 number  below 38.125
    f3 percent
    f4 yes/no
    f5 count  from 2 to 3
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f6 yes/no
    f7 yes/no  otherwise no
    f8 yes/no  otherwise no
    f9 hours  heading "Heading 9" or "H9"  otherwise 21 hr
    f10 psf  above 1.8 psf  otherwise 6.2 psf
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f11 text  one of regular rated A B grid free moisture north
    f12 plf  from 30.5 plf to 16.5 plf  otherwise 33.5 plf
    f13 hours  heading "Heading 13" or "H13"  otherwise 1 hr
    f14 number
    f15 date
    f16 money  above $24.10  may be blank
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f17 number  heading "Heading 17" or "H17"  at least 32.5  may be blank
    f18 number
end
table t19 "A table"
    k0 text, exact | got count
    regular | 2
    rated | 3
    A | 2
    B | 0
    grid | 0
end
table t20 "A table"  source practice
    k0 text, exact | got count
    regular | 2
    rated | 2
    A | 0
    B | 1
    grid | 0
end
for openings
    g21 "Label g21"  =  ("grid" is one of regular)  accepted "as it is"
    g22  =  ((5.4 psf when f4, 1.6 psf otherwise) * longer(12', 18")) when ("grid" is "grid"), (f10 * (f3 of 5/8")) otherwise
    g23 "Label g23"  =  (sum of cuts (shorter(4.1 psf, 3.4 psf))) when ((38 sqm when f4, 5 sf otherwise) >= (24 sf * 24.5)), (f10 / f2) otherwise  source practice
        "What it is for."
    g24 "Label g24"  =  2026-03-01
    check c25 (all of cuts ((f8 or yes))) else notes
    item i26 code "HW" cut round_up(8'-6" / 18"), each (20 CSF / 8'-6") waste 5%
    item i27 "Thing i27" code "XX" need (round_even(shorter((39 lb when no, 37 lb otherwise), (35.5 plf * 600 mm)), to: 21 lb) * (square_root(round_down(15.25, to: 15.125)) when ((f3 of 8 sf) <= (5/8" * 24")), longer(round_near(19, to: 29000), longer(23000, f2)) otherwise))
    item i28 "Thing i28" code "ST" need ((round_even(shorter(10'-3 1/2", 5/8"), to: 4 ft) * (sum of cuts (shorter(18", 1/2")) where ("grid" is "A"))) - (-(-(-28 sf)))) only when (($5.01/MLF * 8'-6") <= ($28.14 * f2))
end
for bays
    g29  =  7.9 psf
    g30  =  (f1 when (25 sf is given), (f1 - f13) otherwise) when ((f15 < f15) or (f15 >= f15)), (f1 + f1) otherwise
    g31 "Label g31"  =  ((f3 of (-f14)) - (-longer(f2, f2)))
    g32  =  ((g30 / 23.25) when (f11 is "A"), shorter(8 hr, g30) otherwise)
    check rate_33 (((f15 when f4, f15 otherwise) > f15) when (f15 <= f15), (f11 is one of regular) when ((f14 <= f2) and (not f4)), (f11 is one of regular) when ((33 sf * f14) > longer(16 CSF, 24 CSF)), (f11 is one of regular) otherwise) else notes
        "It is {g32}."
end
for cuts
    g34 "Label g34"  =  (-longer((f9 when f8, f9 otherwise), 31 hr))  source practice
        "What it is for."
    check c35 (((no and f8) or (18" = 600 mm)) when ("A" is one of regular rated A), (longer(15 sqm, 9 sqm) is not (-23 CSF)) when ((40 CSF is given) when (600 mm >= 4 ft), (2 is not 0) otherwise), (($25.32 is given) or ("A" is "grid")) when (4.9 psf = shorter(f10, f10)), ("north" is "A") when (2026-03-01 is not 2026-03-01), f6 otherwise) else warns
    check c36 ("moisture" is one of regular rated) else notes
end
for rooms
    g37 "Label g37"  =  (longer(4 ft, 10'-3 1/2") + round_up(8'-6", to: 10'-3 1/2"))  source "a handbook, table 3"
    g38  =  (count of openings)  source "a handbook, table 3"
    g39  =  "regular" when (10 lb is given), "grid" when (not (g38 is not f5)), "moisture" when (all of bays ((f4 and f4))), "B" when (any of openings (("rated" is one of regular rated A))), "free" otherwise
    g40 "Label g40"  =  (longer((21.5 plf * f2), (sum of bays (f12))) when (10 sf is given), (6.5 plf when f4, 10.5 plf otherwise) otherwise)
end

for job
    wide = 0 when 0 = 2, 1 when 1 = 2, 2 when 2 = 2, 3 when 3 = 2, 4 when 4 = 2, 5 when 5 = 2, 6 when 6 = 2, 7 when 7 = 2, 8 when 8 = 2, 9 when 9 = 2, 10 when 10 = 2, 11 when 11 = 2, 12 when 12 = 2, 13 when 13 = 2, 14 when 14 = 2, 15 when 15 = 2, 16 when 16 = 2, 17 when 17 = 2, 18 when 18 = 2, 19 when 19 = 2, 20 when 20 = 2, 21 when 21 = 2, 22 when 22 = 2, 23 when 23 = 2, 24 when 24 = 2, 25 when 25 = 2, 26 when 26 = 2, 27 when 27 = 2, 28 when 28 = 2, 29 when 29 = 2, 30 when 30 = 2, 31 when 31 = 2, 32 when 32 = 2, 33 when 33 = 2, 34 when 34 = 2, 35 when 35 = 2, 36 when 36 = 2, 37 when 37 = 2, 38 when 38 = 2, 39 when 39 = 2, 40 when 40 = 2, 41 when 41 = 2, 42 when 42 = 2, 43 when 43 = 2, 44 when 44 = 2, 45 when 45 = 2, 46 when 46 = 2, 47 when 47 = 2, 48 when 48 = 2, 49 when 49 = 2, 50 when 50 = 2, 51 when 51 = 2, 52 when 52 = 2, 53 when 53 = 2, 54 when 54 = 2, 55 when 55 = 2, 56 when 56 = 2, 57 when 57 = 2, 58 when 58 = 2, 59 when 59 = 2, 0 otherwise
end

