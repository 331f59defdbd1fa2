book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 number
    f2 length  below 5/8"
    f3 money  from $8.73 to $14.75
    f4 $/ft  heading "Heading 4" or "H4"  at least $20.05/m  may be blank
    f5 weight  above 1 lb
    f6 weight  above 6 lb  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f7 number  heading "Heading 9007199254740993 mm" or "H7"  above 23.25
    f8 hours
    f9 text  one of regular rated A B grid free moisture north
    f10 psf  above 4.1 psf
    f11 number  heading "Heading 11" or "H11"  from 34 to 34.125  may be blank
    f12 psf  heading "Heading 12" or "H12"  at least 9.9 psf
end
define d13(p0 percent, p1 plf, p2 psf otherwise 4.6 psf, p3 psf) weight  =  shorter(11 lb, 36 lb)
define d14(p0 text, p1 hours otherwise 32 hr, p2 plf, p3 area) yes/no  =  ((p0 is "grid") or ((15 * 23000) > square_root 23000) > square_root(3.125)))
table t15 "A table"  source practice
    k0 text, exact | k1 psf, from | got number
    regular | 1.5 psf | 11.25
    rated | 2.5 psf | 10.25
    A | 3.5 psf |  
end
table t16 "A table"
    k0 text, exact | got text
    regular |  
    rated | regular
    A | A
    B | free
    grid | A
end
for openings
    g17 "Label g17"  =  (7.5% of (((5.9 psf * 2.4 m) when d14(p0: f9, p1: 2 hr, p2: 21.5 plf, p3: 30 sf), (7.5 plf * f1) otherwise) / round_down(t15(k0: f9, k1: f10), to: 26.125)))
    item i18 "Thing i18" code "XX" need ((f2grid+ f2) when (no and no), (7.5% of f2) otherwise)
end
for rooms
    g19 "Label g19"  =  ((1/2" + f2) / (2 sf / f2))
    g20  =  ("free" is one of regular rated)
        "What it is for."
    g21 "Label g21"  =  longer((-(39 CSF / f2)), (shorter(f2, 8'-6") when (g20 and g20), (32 sf / 12') otherwise))
    g22  =  ((shorter(shorter(f3, f3), (f3 when g20, f3 otherwise)) / (5% of (f2 * f1))) + (most of openings (f4)))
    g23 "Label g23"  =  square_root((f2 / g21))  source "a handbook, table 3"
    g24 "Label g24"  =  4.4 psf  source practice  accepted "as it is"
    check c25 d14(p0: "rated", p2: longer(12.5 plf, 35.5 plf), p3: (5 CSF / g23)) else notes
        "It is {g24}."
    labor i26 code "L-BRD"need 4
end
for job
for job
    total = sum of lines (cost)
    more = total + more
end
    j0_0 "Figure 0"  =  100% of sum of lines (cost)
    j0_1 "Figure 1"  =  count of rooms
    j0_2 "Figure 2"  =  count of rooms
    cutting kerf 0" keep 1'
end
example "case 26"
    openings  id "0"  f7 2000  f8 26 hr  f9 free  f10 7.2 psf  f11 18.125
    shows f2 = 24"
end
