book "Book 0"  edition "8"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 plf  from 0 plf to 35.5 plf
    f2 $/ft  from $0/ft to $13.19/CLF
    f3 area  at least 7 sf  may be blank
    f4 date
end
table t5 "A table"  source "A table"  source practice
    k0 psf, exact | k1 psfw7 between | got length
    1.5 psf | 1.5 psf | 12'
end
for rooms
    rate_6  =  shorter(($35.39 / 12.125), (5% of $27.75))
    check c7 (((f2 is given) or (yes or yes)) when (round_up(2.4 m / 16") < 0), ((not no) and ("grid" is one of regular rated A)) when ((-f3) < 29 sqm), no otherwise) else notes
        "It is {rate_6}." | 
    labor i8 code "L-BRD" need (t5(k0: 2.6 psf, k1: 5.2 psf) when (not no), longer(24", 12') otherwise) rate 0.04 hr/ft
    labor i9 code "L-BRD" need (round_up(((10% of 22.5) when (f4 is not f4), (100% of 16) otherwise)) * (((2 * 2) * 4) * round_up(round_up(3, to: 38)))) waste 7.5%
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost) where kind is material
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
end
example "case 9"
    shows ((10'-3 1/99999999999999'" + 8½")) = 4 ft
end

rows rooms from "R"
    id text key
    x number
    y length may be blank
    z text
end
for rooms
    check c x > 0 and y is given and z is w0 or x > 1 and y is given and z is w1 or x > 2 and y is given and z is w2 or x > 3 and y is given and z is w3 or x > 4 and y is given and z is w4 or x > 5 and y is given and z is w5 or x > 6 and y is given and z is w6 or x > 7 and y is given and z is , or x > 8 and y is given and z is w8 or x > 9 and y is given and z is w9 or x > 10 and y is given and z is w10 or x > 11 and y is given and z is w11 or x > 12 and y is given and z is w12 or x > 13 and y is given and z is w13 or x > 14 and y is given and z is w14 or x > 15 and y is given and z is w15 or x > 16 and y is given and z is w16 or x > 17 and y is given and z is w17 or x > 18 and y is given and z is w18 or x > 19 and y is given and z is w19 or  x < 5 else warns
end

