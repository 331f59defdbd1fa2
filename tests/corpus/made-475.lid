book "Book 0"  edition "2"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 text  one of regular rated A B grid free moisture north
end
define d2(p0 $/ft, p1 $/ft otherwise $4.42/m, p2 psf) yes/no  =  (("free" is one of regular rated A) or ($35.22 is given)) when (not ("regular" is "regular")), ((no or no) when ("rated" is "grid"), (1 > 0) otherwise) when ((9 sqm / 4 ft) < (12 sf / 600 mm)), (round_down(10 CSF, to: 12 sf) < (40 CSF - 33 CSF)) otherwise  source "a handbook, table 3"
table t3 "A table"  source practice
    k0 length, up to | k1 length, between | got text
    8" | 8" | north
    16" | 16" | A
    24" | 24" | B
    32" | 32" | moisture
    40" | 40" | north
end
table t4 "A table"
    k0 psf, up to | k1 text, exact | got money
    1.5 psf | rated | $29.79
    2.5 psf | A | $2.95
    3.5 psf | B | $27.07
end
for rooms
    g5  =  100%  source practice
    g6 "Label g6"  =  ((27.5 / 14000)) ^ 2 when d2(p0: longer($17.71/ft, $28.69/MLF), p1: longer($21.24/m, $2.32/CLF), p2: (-3.2 psf)), ((11 + 9000) when (no or yes), (-26.125) otherwise) when (not ($3.25 < $12.60)), round_even(shorter(4, 37.125), to: 33.25) when (longer(1.0 psf, 2.3 psf) < (7.4 psf + 8.0 psf)), square_root((10.5 + 7.125)) otherwise  source "a handbook, table 3"
    g7 "Label g7"  =  (round_even((1 hr - 7 hr), to: 30 hr) when (f1 is "B"), (27 hr when no, 22 hr otherwise) otherwise)  source "a handbook, table 3"
        "What it is for."
    g8  =  (g5 of (37 sf / 3)) when ((not yes) and (15 CSF is not 21 sf)), ((2.4 m * 24") * shorter(g6, 0.25)) otherwise  source "a handbook, table 3"
    check c9 (3 < 2) else warns
        "It is {g8}."
    check c10 (((7.7 psf - 8.6 psf) > (g5 of 5.1 psf)) when (($32.15 >= $33.35) when (no or yes), (28.25 <= g6) otherwise), (round_down(5.7 psf, to: 8.3 psf) < 0.5 psf) when yes, yes when yes, no otherwise) else notes
end
for job
    total "Total"  =  sum of lines (cost)
end
example "case 10"
    shows (((37.5) ^ 6 * longer(18, 23.125))) = 10.25
    shows ("grid") = "moisture"
    shows ((-(-$31.63/MLF))) = $38.72/m
end
example "case 10"
    shows (2026-11-25) = 2024-02-29
    shows (2026-03-01 when d2(p0: shorter($11.26/ft, $5.45/ft), p1: (7.5% of $32.34/m), p2: round_even(6.2 psf, to: 5.4 psf)), 2024-02-29 when (d2(p0: $13.86/ft, p2: 9.3 psf) and ("regular" is "free")), 2024-02-29 when ((3 hr is given) when (2024-02-29 is given), (no or yes) otherwise), 2024-02-29 when (not (24" is not 8'-6")), 2024-02-29 otherwise) = 2024-02-29
end
example "case 10"
    shows (((8.6 psf * 10'-3 1/2") * 5/8")) = 23 lb
end
