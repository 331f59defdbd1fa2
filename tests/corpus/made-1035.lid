==== layer 0
book "Book 0"  edition "7"
use "hardlid trade"
use "layer 0"
rows rooms  from "Rooms"
    id text key
    f1 money  otherwise $10.66
    f2 number
    f3 money
    f4 count
    f5 money  may be blank
    f6 length  at least 1/2"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f7 text  one of regular rated A B grid free moisture north
end
define d8(p0 percent, p1 text, p2 plf otherwise 24.5 plf, p3 psf otherwise 4.3 psf) psf  =  (-p3)
define d9(p0 yes/no, p1 yes/no otherwise yes) hours  =  longer((-37 hr), (-shorter(18 hr, 13 hr)))
table t10 "A table"
    k0 count, exact | k1 number, between | got weight
    1 | 1 | 25 lb
    2 | 2 | 5 lb
end
table t11 "A table"  source practice
    k0 text, exact | k1 count, exact | k2 count, between | got money
    regular | 1 | 1 | $31.76
    rated | 2 | 2 | $36.74
end
for rooms
    g12 "Label g12"  =  ($34.53/ft * 10'-3 1/2")
    g13  =  (t11(k0: "moisture", k1: round_up(shorter(f2, f2)), k2: round_up((15 sf / 12') / (8 sqm / f6))) when ((f1 is given) when ((not no) or (not no)), ("B" is one of regular rated A B) otherwise), (g12 / f2) otherwise)  source "a handbook, table 3"
    g14 "Label g14"  =  (longer(((31 sf / 8'-6") * (10% of f6)), ((9 sf / f2) - (24 sf - 20 sqm))) < 27 sf)
        "What it is for."
    g15  =  round_up((round_down((32 sf / f6), to: 18") - f6) / 10'-3 1/2")
        "What it is for."
    check c16 (2026-03-01 is given) else stops
    check c17 (2026-11-25 < 2026-03-01) else notes
        "It is {g15}."
end
for openings
    g18  =  (((f6 when g14, f6 otherwise) * (f6 when yes, f6 otherwise)) when ((f2 <= 3.5) and (f4 > f4)), longer((-7 sf), (f6 * f6)) otherwise)  source "a handbook, table 3"
    g19 "Label g19"  =  (f5 / 16")  source practice
    g20  =  round_down((4.8 psf + 1.5 psf), to: 2.5 psf) when ((9 sf is given) and (f7 is one of regular rated A)), (-(4.1 psf * f2)) when ((f4 <= f4) and (not no)), 1.2 psf otherwise
    check c21 (no and yes) else warns
        "It is {g20}."
    check key_22 ("north" is "regular") else stops
        "It is {g20}."
    labor i23 code "L-BRD" need (round_up((f6 when yes, f6 otherwise) / (f6 / 19.25)) when ((f6 - f6) > (31 sf / f6)), ((3 + f4) * round_up(f2)) when (f7 is one of regular), (round_up(f2) when (f2 <= f2), round_up(f6 / f6) otherwise) when ("B" is "B"), f4 otherwise) waste 10% only when (f6 is not f6)
    labor i24 code "L-BRD" need round_even((f6 * 4 ft), to: 5 CSF) waste 5%
    item i25 "Thing i25" code "HW" need (10% of g18)
end
for job
    total "Total"  =  sum of lines (cost)
end

==== 
book "Book 1"  edition "6"
use "layer 0"
units metric
for rooms
    g26  =  (0% of (least of openings ((-$37.18/MLF))))
    replace g15 "Label g15"  =  round_up(square_root(12))  source "a handbook, table 3"
        "What it is for."
    item i27 "Thing i27" code "ST" need longer((least of openings ((g18 + g18)) where ("regular" is "rated")), 8 CSF)
    item i28 "Thing i28" code "HW" need (round_up(18" / f6) * (count of openings)) only when (((d8(p0: 7.5%, p1: "moisture", p2: 18.5 plf, p3: 4.5 psf) = shorter(3.1 psf, 7.1 psf)) and (any of openings ((2026-03-01 <= 2026-03-01)))) when (not (2024-02-29 is not 2024-02-29)), (((100% is given) and (g12 > g13)) or ("north" is one of regular rated)) otherwise)
    item i29 "Thing i29" code "AN" need (7.5% of 5 CSF) waste 100%
end
for openings
    g30  =  (((round_even(g18, to: 38 sf) - (f6 * f6)) / (f6 when g14, f6 otherwise)) * f6)
    count_31 "Label count_31"  =  (((d8(p0: 0%, p1: "regular", p2: 32.5 plf, p3: 4.4 psf) when (yes and no), (g20 + 1.4 psf) otherwise) * longer((f6 / 17.125), (f6 - f6))) * square_root(((18.125) ^ 0) ^ 3))
    replace g20  =  (round_even(longer(2.7 psf, 5.3 psf), to: 5.8 psf) when (f7 is one of regular rated A), longer((shorter(7.1 psf, 8.2 psf) - round_even(4.1 psf, to: 0.3 psf)), (round_down(6.4 psf, to: 8.9 psf) when (no or no), (4.1 psf - 4.9 psf) otherwise)) otherwise)
    replace g18 "Label g18"  =  ((1/2" * 24") when (3 < 3), (20 CSF + 38 CSF) otherwise) when (($26.68 is given) and (not yes)), ((5/8" * 10'-3 1/2") when ($39.97 is given), (37 sqm * 11.25) otherwise) when ((5.0 psf < 3.8 psf) or (f7 is one of regular)), ((-14 sf) when (7.5 psf < 8.0 psf), round_near(27 sf, to: 38 sf) otherwise) otherwise  source practice
    item i32 "Thing i32" code "AN" need ((round_up(2.4 m / f6) * round_up(f6 / f6)) when (f4 is given), f4 when (f4 >= (f4 * f4)), round_up(shorter(f2, f2)) when ((yes or no) and (f2 > 29.25)), round_up((f6 * 36.5) / (f6 + 8½")) otherwise)
end
for job
    j1_0 "Figure 0"  =  sum of lines (cost) where kind is material
    j1_1 "Figure 1"  =  7.5% of sum of lines (cost)
end
