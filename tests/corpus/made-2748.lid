book "Book 0"  edition "6"
rows rooms  from "Rooms"
    id text key
    f1 length  may be blank
    f2 $/ft  below $18.24/CLF  otherwise $23.45/MLF
    f3 psf  from 5.2 psf to 9.1 psf  otherwise 7.9 psf
    f4 area  heading "Heading 4" or "H4"  from 39 sf to 31 sqm  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 weight  below 25 lb
    f6 $/ft  heading "Heading 6" or "H6"  may be blank
    f7 percent  below 100%
    f8 plf  from 19.5 plf to 0.5 plf  may be blank
end
table t9 "A table"  source practice
    k0 text, exact | got money
    regular | $18.98
end
for openings
    g10  =  (-(shorter((f4 + f4), (f1 * 2.4 m)) when ("free" is one of regular), (f7 of (f1 * f1)) otherwise))
    g11  =  "regular" when (not ("rated" is "rated")), "free" otherwise
    g12  =  round_down(f1, to: 8½")
    g13 "Label g13"  =  (((f7 of 31 hr) - 22 hr) / shorter((32000 / 3), (g12 / f1)))  accepted "as it is"
        "What it is for."
    g14 "Label g14"  =  shorter(longer(g12, 5/8"), longer(g12, 12')) when (($35.82 > $24.46) or (yes and no)), longer(shorter(f1, 10'-3 1/2"), (5/8" * 33000)) when yes, 1/2" otherwise
    check item_15 ((-((f2 * g14) when (not yes), ($6.23 + $7.08) otherwise)) < ((longer($9.08, $33.65) when (g11 is given), (f2 * g14) otherwise) * ((-g14) / (1/2" / 30)))) else warns
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1", way_2 "Way way_2"
    g16 "Label g16"  =  "regular"  source "a handbook, table 3"
    check c17 (10% is given) else notes
        "It is {g16}."
    check c18 (yes and no) else stops
        "It is {g16}."
    item i19 "Thing i19" code "ST" need 2
end
for job
    j0_0 "Figure 0"  =  (($36.34 / 16") * 5/8")
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is labor
    j0_2 "Figure 2"  =  count of rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1", way_2 "Way way_2"
end
for job
    wide = 0 when 0 = 2, 1 when 1 = 2, 2 when 2 = 2, 3 when 3 = 2, 4 when 4 = 2, 5 when 5 = 2, 6 when 6 = 2, 7 when 7 = 2, 8 when 8 = 2, 9 when 9 = 2, 10 when 10 = 2, 11 when 11 = 2, 12 when 12 = 2, 13 when 13 = 2, 14 when 14 = 2, 15 when 15 = 2, 16 when 16 = 2, 17 when 17 = 2, 18 when 18 = 2, 19 when 19 = 2, 20 when 20 = 2, 21 when 21 = 2, 22 when 22 = 2, 23 when 23 = 2, 24 when 24 = 2, 25 when 25 = 2, 26 when 26 = 2, 27 when 27 = 2, 28 when 28 = 2, 29 when 29 = 2, 30 when 30 = 2, 31 when 31 = 2, 32 when 32 = 2, 33 when 33 = 2, 34 when 34 = 2, 35 when 35 = 2, 36 when 36 = 2, 37 when 37 = 2, 38 when 38 = 2, 39 when 39 = 2, 40 when 40 = 2, 41 when 41 = 2, 42 when 42 = 2, 43 when 43 = 2, 44 when 44 = 2, 45 when 45 = 2, 46 when 46 = 2, 47 when 47 = 2, 48 when 48 = 2, 49 when 49 = 2, 50 when 50 = 2, 51 when 51 = 2, 52 when 52 = 2, 53 when 53 = 2, 54 when 54 = 2, 55 when 55 = 2, 56 when 56 = 2, 57 when 57 = 2, 58 when 58 = 2, 59 when 59 = 2, 0 otherwise
end
