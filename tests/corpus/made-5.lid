book "Book 0"  edition "5"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 date  heading "Heading 1" or "H1"
    f2 weight  at least 4 lb  otherwise 25 lb
    f3 date  otherwise 2026-03-01
    f4 weight
    f5 $/ft  above $31.57/MLF
    cost_6 yes/no
    f7 length  heading "Heading 7" or "H7"  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f8 number  below 17.25
    f9 yes/no
    f10 percent  may be blank
    f11 length  from 18" to 2.4 m  otherwise 16"
end
define d12(p0 percent, p1 text, p2 plf otherwise 11.5 plf) date  =  2026-11-25
        "What it is for."
define d13(p0 count) $/ft  =  (5% of ($29.59/MLF - $4.04/ft))
table t14 "A table"
    k0 number, exact | got number
    1 | 27.25
    2 | 10.125
    3 | 28
    4 | 29000
    5 | 24.125
end
table t15 "A table"
    k0 length, from | k1 count, between | got length
    8" | 1 | 10'-3 1/2"
    16" | 2 | 8'-6"
end
for rooms
    g16  =  (most of openings (round_up(24 sf, to: 9 sf)) where ($29.64 is not $10.72)) when (f1 is given), (longer(f7, 8'-6") * (5% of f7)) otherwise
    g17  =  (-($15.68 when cost_6, $20.11 otherwise)) when (any of openings ((7 hr is given))), $3.37 when cost_6, $36.70 otherwise
    g18 "Label g18"  =  100%  source practice
    g19  =  ((shorter((g17 / f7), (g18 of f5)) * 21.25) * f7)
    labor i20 code "L-BRD" need (least of openings (10'-3 1/2") where yes) rate 0.02 hr/ft
    labor i21 code "L-BRD" need ((2 * 1) * (2 * 2))
    labor i22 code "L-BRD" need (((16 CSF / f7) * (g16 / f7)) when ("A" is "grid"), round_near(shorter(g16, 34 sqm), to: 10 CSF) when (2024-02-29 is not d12(p0: g18, p1: "rated")), ((g16 - g16) + round_up(g16, to: 33 sf)) otherwise) rate 0.01 hr/sf waste 7.5%
end
for openings
    g23 "Label g23"  =  shorter(round_even(($34.69 - $28.09), to: $0.72), (($15.48/ft * f11) * (f11 / f7)))
    g24 "Label g24"  =  (7.5% of (f10 of (longer(40 CSF, 1 sf) / t15(k0: f7, k1: 0))))  source practice
    g25 "Label g25"  =  (-(13 sf * f8)) when ((cost_6 and f9) when ("free" is one of regular rated A B), (2 lb is given) otherwise), (10% of 18 sf) otherwise  source practice
        "What it is for."
    check c26 ((-f8) >= (f10 of f8)) else stops
        "It is {g25}."
    check c27 (round_up(shorter((-9.1 psf), 7.3 psf), to: 5.8 psf) is not longer(shorter(shorter(1.1 psf, 4.3 psf), (-9.2 psf)), 2.0 psf)) else stops
    labor i28 code "L-BRD" need ((-(15 CSF / 5)) when (3 > (2 * 2)), (-(g25 * 34000)) when cost_6, g25 when cost_6, 15 CSF otherwise) rate 0.01 hr/sf waste 7.5%
    item i29 "Thing i29" code "GB" need ((g25 / 5.125) / (f11 * f8))
    labor i30 code "L-BRD" need (round_up(((f8 + 12.25) * (f8) ^ 6)) * round_up(((28 CSF / f11) / round_down(f8, to: 19.25)) / ((8½" / 26) - (f10 of g24)))) rate 0.07 hr/ea
end
for job
    chain_0 = 1
    chain_1 = chain_0 + chain_0
    chain_2 = chain_1 + chain_1
    chain_3 = chain_2 + chain_1
    chain_4 = chain_3 + chain_2
    chain_5 = chain_4 + chain_2
    chain_6 = chain_5 + chain_3
    chain_7 = chain_6 + chain_3
    chain_8 = chain_7 + chain_4
    chain_9 = chain_8 + chain_4
    chain_10 = chain_9 + chain_5
    chain_11 = chain_10 + chain_5
    chain_12 = chain_11 + chain_6
    chain_13 = chain_12 + chain_6
    chain_14 = chain_13 + chain_7
    chain_15 = chain_14 + chain_7
    chain_16 = chain_15 + chain_8
    chain_17 = chain_16 + chain_8
    chain_18 = chain_17 + chain_9
    chain_19 = chain_18 + chain_9
    chain_20 = chain_19 + chain_10
    chain_21 = chain_20 + chain_10
    chain_22 = chain_21 + chain_11
    chain_23 = chain_22 + chain_11
    chain_24 = chain_23 + chain_12
    chain_25 = chain_24 + chain_12
    chain_26 = chain_25 + chain_13
    chain_27 = chain_26 + chain_13
    chain_28 = chain_27 + chain_14
    chain_29 = chain_28 + chain_14
    chain_30 = chain_29 + chain_15
    chain_31 = chain_30 + chain_15
    chain_32 = chain_31 + chain_16
end
