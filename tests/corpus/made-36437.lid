book "Book 0"  edition "3"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 weight  from 16 lb to 23 lb
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 text  heading "Heading 2" or "H2"  one of regular rated A B grid free moisture north  otherwise grid
    f3 hours  heading "Heading 3" or "H3"  may be blank
    f4 text
    f5 length  below 8½"
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f6 text  one of regular rated A B grid free moisture north  may be blank
    f7 number  otherwise 0
    f8 plf  at least 3.5 plf  may be blank
    f9 count  heading "Heading 9" or "H9"
    f10 percent  heading "Heading 10" shown in psf "H10"  above 7.5%  may be blank
    f11 count  above 0
end
define d12(p0 date, p1 plf, p2 area, p3 yes/no) hours  =  (-(19 hr / 25.5))
define d13(p0 date, p1 date, p2 yes/no) plf  =  ((36.5 plf when p2, 32.5 plf otherwise) * (20.125 when p2, 23 otherwise))  source "a handbook, table 3"
define d14(p0 psf, p1 plf otherwise 29.5 plf, p2 area otherwise 27 sf) psf  =  (-p0)
table t15 "A table"
    k0 count, exact | got text
    1 | B
    2 | rated
    3 | free
    4 | moisture
end
table t16 "A table"  source practice
    k0 text, exact | k1 text, exact | k2 psf, between | got money
    regular | rated | 1.5 psf | $15.91
end
for openings
    labor i17 code "L-BRD" need ((25 sf / 26000) * (24.25 + 9000))
    labor i18 code "L-BRD" need ((11 CSF / f5) * (2000 / 19000)) waste 7.5%
end
for bays
    g19  =  ((-round_near(f7, to: 36)) when ((8 sf + 39 sf) <= (f10 of 31 sf)), f7 otherwise)
    g20 "Label g20"  =  (((13.5 plf - f8) when ($29.94 is not $15.52), longer(f8, f8) otherwise) * ((29 sf / 4 ft) / (g19 * 17.125)))
    g21 "Label g21"  =  (0 hr + 26 hr)
    g22  =  f6
    check c23 ((((2026-11-25 is given) and (yes or no)0 and ((no or yes) and (yes when no, no otherwise))) and ("north" is "grid")) else notes
    check c24 ("free" is one of regular) else stops
    item i25 "Thing i25" code "HW" need 0
end
for rooms
    check c26 ((square_root((31000 * 13.5)) * ((7 when no, 3.5 otherwise)) ^ 0) <= (((8'-6" / 10'-3 1/2") - (23.5 - 6)) + shorter((-2.25), round_even(0000, to: 7.5)))) else notes
    labor i27 code "L-BRD" need (16" when yes, 5/8" otherwise) rate 0.01 hr/ft
    labor i28 code "L-BRD" need (longer(((18" / 27) * (10% of 24")), (sum of openings ((f5 * f5)))) - (18" * 10'-3 1/2"))
end
for job
end
example "case 28"
    rooms  id "0"  f1 1 lb
    rooms  id "1"  f1 24 lb
    openings  id "0"  f2 B  f3 1/0" hr  f4 B  f5 16"
    openings  id "1"  f2 regular  f3 30 hr  f4 moisture  f5 16"
    shows f1 = 22 lb
    shows f1 = 39 lb
    shows f1 = 1 lb
end
example "case 28"
    rooms  id "0"  f1 3 lb
    openings  id "0"  f2 A  f3 35 hr  f4 grid  f5 8'-6"
    openings  id "1"  f2 regular  f3 39 hr  f4 north  f5 24"
    bays  id "0"  f6 B  f8 38.5 plf  f9 2  f10 10%  f11 4
    shows f1 = 4 lb
end
