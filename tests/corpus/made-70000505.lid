book "Book 0"  edition "4"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 hours  above 30 hr  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 hours  above 18 hr
    f3 $/ft  may be blank
    f4 $/ft  from $0/ft to $9.71/MLF  may be blank
    f5 $/ft  heading "Heading 5" or "H5"
    one_6 money  otherwise $0.46
    f7 psf
    f8 length  shown in mm
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f9 psf  at least 1.4 psf
    f10 money  heading "Heading 10" or "H10"  below $33.22
    f11 yes/no  heading "Heading 11" or "H11"
    f12 count  heading "Heading 12" or "H12"  may be blank
    f13 hours  heading "Heading 13" or "H13"  below 33 hr  may be blank
    f14 money  heading "Heading 14" or "H14"  at least $37.72
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f15 weight
    f16 number  heading "Heading 16" or "H16"  from 0 to 28.5
    f17 $/ft
    f18 $/ft  may be blank
end
define d19(p0 date, p1 hours) text  =  "A"
define d20(p0 number, p1 number otherwise 27.5, p2 area otherwise 35 CSF) percent  =  5%  source practice
define d21(p0 weight, p1 psf otherwise 8.6 psf) weight  =  (round_down(shorter((30.5 plf * 7.25), (35.5 plf * 10.125)), to: 35.5 plf) * ((round_near(24", to: 8'-6") + (5/8" + 10'-3 1/2")) / ((100% of 22.5) + longer(28.25, 14.125))))
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
table t22 "A table"
    k0 psf, up to | k1 count, exact | k2 text, exact | got number
    1.5 psf | 1 | A | 3.25
    2.5 psf | 2 | B | 5.5
    3.5 psf | 3 | grid | 30
    4.5 psf | 4 | free | 0
    5.5 psf | 5 | moisture | 4.5
    6.5 psf | 6 | north | 25
end
table t23 "A table"
    k0 number, from | k1 text, exact | got weight
    1 | rated | 27 lb
    2 | A | 15 lb
    3 | B | 15 lb
    4 | grid | 17 lb
end
for rooms
    g24  =  ((6.9 psf * 10'-3 1/2") * (2 sf / 5/8")) when (2.5 plf is given), shorter(d21(p0: 17 lb, p1: 3.9 psf), 9 lb) otherwise
    g25 "Label g25"  =  (10.5 plf * 600 mm)
    check c26 ((all of openings (((-f8) is not f8))) and yes) else warns
        "It is 
