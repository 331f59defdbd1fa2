book "Book 0"  edition "8"
use "hardlid trade"
rows rooms  from "Rooms*
    id text key
    f1 length  below 5/999999999999999999999999999999999999999"  otherwise 1/2"
end
for job
    cutting by id kerf -1' keep 100'
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 weight
    f3 yes/no  otherwise no
    f4 money
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f5 $/ft  heading "Heading 5" or  sf "H5"
    f6 date  heading "Heading 6" or "H6"
    f7 text
    f8 date
    f9 number  above 8000
end
for openings
    g10 "Label g10"  =  longer((35.5 plf when f3, 32.5 plf otherwise), (5.5 psf * f1))  source "a handbook, table 3"
    g11 "Label g11"  =  shorter(((-round_down(f2, to: 40 lb)) + ((g10 + g10) * (8'-6" when f3, f1 otherwise))), longer(((-f2) + (g10 * f1)), (0% of shorter(f2, f2))))  source "a handbook, table 3"  accepted "as it is"
    g12 "Label g12"  =  7.5%
    labor i13 code "L-BRD" need 2
    labor i14 code "L-BRD" need ((-(-23 sf)) when ((f3 or f3) when (f4 = f4), (2026-03-01 is given) otherwise), (longer(17 CSF, 32 CSF) when (not f3), 34 CSF otherwise) when f3, 16 sf when no, 38 CSF otherwise)
end
for bays
    g15  =  round_up(f1 / f1)  source "a handbook, table 3"
    g16  =  (g15 + g15)
    g17 "Label g17"  =  10%  source practice
    g18 "Label g18"  =  33 hr when ((13 hr is given) and (1.5 < f9)), round_up(shorter(29 hr, 4 hr), to: 10 hr) otherwise
    g19  =  (f1 " f1)
    g20 "Label g20"  =  (f7 is given)
    labor sum_21 code "L-BRD" need (((2.4 m * f1) / (g19 / f1)) / square_root(shorter(f9, f9)))
    labor i22 code "L-BRD" need ((2.4 m * f9) / (f9) ^ -1) rate 0.03 hr/ft
end
for rooms
    g23  =  (1 + 4)
    g24 "Label g24"  =  ((4.5 psf when yes, 3.9 psf otherwise) * (f1 - f1))
    check c25 ("A" is "regular") else notes
    check c26 ("free" is one of regular rated A) else notes
    labor i27 code "L-BRD" need ((g23 * 3) + 4) rate 0.07 hr/ea
end
for job
end
for job
    twice_0 = 1
    twice_1 = twice_0 + twice_0
    twice_2 = twice_1 + twice_1
    twice_3 = twice_2 + twice_2
    twice_4 = twice_3 + twice_3
    twice_5 = twice_4 + twice_4
    twice_6 = twice_5 + twice_5
    twice_7 = twice_6 + twice_6
    twice_8 = twice_7 + twice_7
    twice_9 = twice_8 + twice_8
    twice_10 = twice_9 + twice_9
    twice_11 = twice_10 + twice_10
    twice_12 = twice_11 + twice_11
    twice_13 = twice_12 + twice_12
    twice_14 = twice_13 + twice_13
    twice_15 = twice_14 + twice_14
    twice_16 = twice_15 + twice_15
    twice_17 = twice_16 + twice_16
    twice_18 = twice_17 + twice_17
    twice_19 = twice_18 + twice_18
end
