==== layer 0
book "Book 0"  edition "6"
units metric
rows rooms  from "Rooms"
    id text key
    f1 psf  below 1.8 psf
    f2 text  heading "Heading 2" or "H2"
    f3 area  above 11 sf  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f4 money  otherwise $8.81
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    one_5 count  heading "Heading 5" or "H5"  below 3
    f6 area  below 2 sf
    f7 weight  otherwise 38 lb
    f8 weight  below 29 lb
    f9 count  at least 2
    f10 count  at least 2
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f11 hours  otherwise 18 hr
    f12 money  heading "Heading 12" or "H12"  from $0 to $0.96
end
define d13(p0 text, p1 area) count  =  ((3 when no, 3 otherwise) + (3 + 0))
define d14(p0 length) money  =  (($6.41 when no, $6.22 otherwise) * (14 / 5.25)) when ((2026-11-25 is not 2024-02-29) or (1.6 psf <= 5.1 psf)), (($21.30 * 35.5) + ($4.16 - $26.17)) when (not (27 sqm <= 25 sf)), (longer($7.25, $26.63) - ($35.69/ft * 5/8")) when yes, $4.36 when yes, $35.42 otherwise  source practice
for openings
    g15  =  (21.25) ^ 2
    g16 "Label g16"  =  (-$0.55/CLF)  source practice
        "What it is for."
    g17 "Label g17"  =  ((32.5 plf / g15) + (26.5 plf when no, 2.5 plf otherwise)) when ((-5/8") >= (f3 / 8½")), ((2.5 plf + 36.5 plf) / square_root(g15)) when ((no when no, no otherwise) when (f4 <= f4), (2024-02-29 <= 2026-11-25) otherwise), ((33.5 plf * g15) * (g15 + g15)) when no, 24.5 plf otherwise
        "What it is for."
    g18 "Label g18"  =  ((0% of (f1 when no, f1 otherwise)) is not (8.6 psf when (2026-03-01 < 2024-02-29), (3.0 psf / g15) otherwise))
    g19 "Label g19"  =  round_up((sum of cuts ((16" * 8'-6"))), to: 34 sf)
    check c20 (f2 is "rated") else stops
    check c21 (2026-11-25 >= 2026-03-01) else stops
        "It is {g19}."
    item i22 "Thing i22" code "XX" need (((1 + 2) * round_up(24" / 18")) + 1)
end
for bays
    g23 "Label g23"  =  ((round_even((18" - 16"), to: 10'-3 1/2") * 16") - f6)
    g24 "Label g24"  =  ((600 mm * 38) * (2.4 m - 12')) when ("B" is one of regular rated A), (shorter(f6, f6) * (5000) ^ 6) when (f1 = (f1 + f1)), ((10% of 10'-3 1/2") * (f6 / 1/2")) when ((f1 - f1) is not (f1 - f1)), ((5% of 24 sf) when (not yes), (g23 - f6) otherwise) when ($23.16/CLF is given), f6 otherwise
    g25 "Label g25"  =  ((shorter(f8, f8) when (no or no), (f7 - 26 lb) otherwise) when (not (f2 is "regular")), longer((5.5 plf * 8½"), (f7 + f8)) otherwise)
    check c26 (("A" is "rated") when (not (f6 > g23)), ("free" is "north") when ("A" is one of regular rated A B), ((10'-3 1/2" = 8½") or (f6 = 40 CSF)) when (16.5 plf is given), (f2 is one of regular rated) when (($2.47 = $6.23) when ($27.43 < $10.87), (no when no, no otherwise) otherwise), (f1 is given) otherwise) else notes
        "It is {g25}."
end
for cuts
    g27  =  ((-7.0 psf) * shorter(3.125, 35))
        "What it is for."
    check c28 (("regular" is "rated") when (2026-03-01 <= 2024-02-29), ((yes or yes) and (not no)) when (2 > 3), ((0.7 psf * 28000) > g27) when (("rated" is "grid") or (no or yes)), (("B" is one of regular rated A) or (f11 is given)) when (("grid" is "A") and ("north" is "free")), ((yes and no) or yes) otherwise) else warns
end
for rooms
    g29 "Label g29"  =  (round_near($38.03, to: $4.84) * round_down(37.25, to: 20.25))
    labor i30 code "L-BRD" need (14 sf / 2.4 m) waste 7.5%
    labor i31 code "L-BRD" need ((2 sf when yes, f3 otherwise) * (38.125 * 34.125))
    item i32 code "ST" cut round_up(4 ft / 18"), each (shorter(longer(18", 24"), (5% of 2.4 m)) when (f2 is "north"), ((600 mm when yes, 600 mm otherwise) - 12') when no, 8½" when no, 10'-3 1/2" when no, 8½" otherwise) only when ("regular" is one of regular)
end

==== 
book "Book 1"  edition "4"
use "layer 0"
use "House"
replace define d14(p0 length) money  =  (((-$20.67) - (-$30.97)) when (("regular" is given) when (yes or yes), (18 sf < 34 CSF) otherwise), (longer($22.83/MLF, $14.80/MLF) * (38 sqm / p0)) otherwise)
table t33 "A table"  source practice
    k0 psf, exact | k1 text, exact | k2 number, from | got weight
    1.5 psf | rated | 1 | 23 lb
    2.5 psf | A | 2 | 37 lb
    3.5 psf | B | 3 | 11 lb
    4.5 psf | grid | 4 | 28 lb
    5.5 psf | free | 5 | 29 lb
end
table t34 "A table"
    k0 number, exact | k1 length, between | got money
    1 | 8" | $18.67
    2 | 16" | $9.87
end
for openings
    g35 "Label g35"  =  2024-02-29
    replace g17  =  round_down((3.3 psf * 5/8"), to: 34.5 plf)  source practice
        "What it is for."
    g36 "Label g36"  =  round_up((longer(shorter(24", 18"), (600 mm + 1/2")) + ((26 CSF / 16") - (600 mm + 18"))) / round_near(longer(longer(2.4 m, 12'), (5% of 8'-6")), to: 10'-3 1/2"))
    g37  =  7.5%
    g38  =  ((longer(2.4 m, 1/2") / (g15 - g15)) / (g37 of (12' when yes, 8½" otherwise)))
    check c39 (round_up(shorter(12', 600 mm), to: 1/2") >= (longer(f3, 9 sqm) / shorter(18", 16"))) else notes
    item i40 "Thing i40" code "GB" need ((g37 of 39 lb) * round_up(g15, to: 15.25))
    labor i41 code "L-BRD" need ((1/2" / g15) * (g19 / 600 mm)) rate 0.02 hr/sf
    item i42 "Thing i42" code "XX" need (((f3 / 2.4 m) - (18" / 18000)) when ("moisture" is one of regular rated A B), ((g19 / 5/8") / (38 - g38)) when ("rated" is "grid"), ((6 sf when g18, f3 otherwise) / (most of cuts (1/2") where yes)) when (square_root(39.25) <= (g37 of g38)), ((600 mm when g18, 5/8" otherwise) when ("grid" is "B"), round_near(8½", to: 8'-6") otherwise) otherwise)
end
for bays
    g43  =  (-32 sf)  source "a handbook, table 3"
        "What it is for."
    g44  =  shorter(9.5 plf, 20.5 plf)
        "What it is for."
    g45 "Label g45"  =  ((f3 / 5/8") + (10'-3 1/2" / 8000))  source practice
        "What it is for."
    labor i46 code "L-BRD" need round_near((4 ft when yes, g45 otherwise), to: 5/8")
    item i47 code "AN" cut ((one_5 when (f2 is one of regular), (round_up(8½" / g45) * (one_5 + 1)) otherwise) * round_up((g23 / g45) / g45)), each (g45 when no, g45 otherwise)
end
for cuts
    replace g27 "Label g27"  =  (-(5% of 9.8 psf))  source "a handbook, table 3"
    g48  =  5%
        "What it is for."
    g49 "Label g49"  =  ((4 ft when no, 2.4 m otherwise) is not (10'-3 1/2" + 16"))
    g50 "Label g50"  =  (g48 of $27.09/MLF)
    g51 "Label g51"  =  ((g48 of (shorter(f4, $13.69) / shorter(8.125, 16000))) / (((15) ^ 6) ^ 2 + ((10'-3 1/2" * 2.5) / round_down(8½", to: 1/2"))))  accepted "as it is"
    check c52 (round_even(round_up((g48 of g51), to: $4.69), to: $35.00) >= t34(k0: (round_down(5.125, to: 31.25) when (2.5 psf < g27), (-20.5) otherwise), k1: 2.4 m)) else stops
        "It is {g51}."
    labor i53 code "L-BRD" need ((36 sqm / 18") - (24" - 1/2")) rate 0.02 hr/ft waste 100% only when (((not g49) when ("free" is one of regular rated A), ("B" is "B") otherwise) when ((7 CSF / 10'-3 1/2") >= (35 sf / 12')), (17 lb is given) when ("free" is one of regular), (g27 < 0.3 psf) otherwise)
    item i54 "Thing i54" code "AN" need (round_up(24" / 2.4 m) + d13(p0: "north", p1: 19 sqm)) waste 0%
end
for rooms
    g55  =  (5% of (((7.5% of $13.21/m) / (most of openings (g15))) + (sum of openings ((g16 - g16)))))
    replace g29  =  (-((($23.52/CLF * 22.125) * (33 sqm / 1/2")) when (f1 >= f1), t34(k0: shorter(33.25, 12.125), k1: (10% of 2.4 m)) otherwise))
    g56  =  ("grid" is one of regular rated A)
    g57  =  (((7.3 psf + f1) + (10% of f1)) - shorter(f1, f1))
    g58 "Label g58"  =  f2
    check c59 (any of openings (g18)) else stops
        "It is {g58}."
    item i60 "Thing i60" code "ST" need (16" * 5/8")
end
