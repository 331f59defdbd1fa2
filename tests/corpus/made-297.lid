book "Book 0"  edition "4"
units metric
rows rooms  from "Rooms"
    id text key
    f1 weight  from 11 lb to 24 lb
    f2 money  heading "Heading 2" or "H2"  otherwise $28.35
    f3 percent  heading "Heading 3" or "H3"  at least 5%  otherwise 5%
    f4 area  otherwise 11 sf
    f5 text  one of regular rated A B grid free moisture north  otherwise moisture
    f6 text  one of regular rated A B grid free moisture north  otherwise rated
    f7 percent  heading "Heading 7" or "H7"
end
define d8(p0 $/ft, p1 psf otherwise 5.1 psf) psf  =  round_down(((10% of 4.6 psf) / (27 + 17.25)), to: 2.1 psf)
table t9 "A table"
    k0 number, exact | k1 count, between | got number
    1 | 1 | 7
    2 | 2 | 15000
    3 | 3 | 3
    4 | 4 | 10
    5 | 5 | 23.125
    6 | 6 | 6000
end
table t10 "A table"
    k0 text, exact | k1 psf, exact | got weight
    regular | 1.5 psf | 38 lb
    rated | 2.5 psf | 26 lb
    A | 3.5 psf | 4 lb
    B | 4.5 psf | 28 lb
    grid | 5.5 psf | 40 lb
    free | 6.5 psf | 40 lb
end
for rooms
    g11 "Label g11"  =  ((1.25) ^ 3 when (f5 is "A"), square_root(22.5) otherwise) when ((f5 is "free") and (not no)), (square_root(15000) - (30.25 * 17.25)) when (2026-03-01 < 2024-02-29), (106 when yes, ( otherwise)) ^ 6 otherwise  source "a handbook, table 3"
    g12 "Label g12"  =  round_up((t9(k0: (g11 / g11), k1: (0 when yes, 3 otherwise)) / longer((f7 of g11), (g11 + g11))), to: 37000)
    g13  =  (((f3 when (yes when yes, yes otherwise), 7.5% otherwise) of ((35.5 plf + 17.5 plf) + (2.7 psf * 2.4 m))) - (f3 of ((f7 when no, f3 otherwise) of round_up(8.5 plf, otherwise: 16.5 plf))))  accepted "as it is"
    g14  =  shorter(((f7 of longer(0.7 psf, 8.7 psf)) + (9.1 psf when no, 3.4 psf otherwise)), ((5.5 psf / t9(k0: 13.125, k1: 2)) + ((0.3 psf / g12) + (1.5 psf * g11))))
    g15 "Label g15"  =  f6  accepted "as it is"
    g16  =  square_root((f3 of g12)) when (2024-02-29 is given), ((g12 - 38) when (0 < 4), square_root(g12) otherwise) when (not (no and yes)), t9(k0: round_even(4000, to: 2.125), k1: round_up(g11)) when no, 35.125 otherwise  source practice
    check c17 ("free" is "rated") else stops
    check c18 ((($30.61/CLF * 8½") - longer(f2, f2)) <= (($16.10 when no, f2 otherwise) when (f6 is "regular"), shorter(f2, $36.98) otherwise)) else stops
        "It is {g16}."
    labor i19 code "L-BRD" need ((f4 / 24") * 5/8") rate 0.07 hr/sf waste 0% only when (yes and yes)
    labor i20 code "L-BRD" need (((600 mm * 16") when (g16 is not g11), (f4 + 22 CSF) otherwise) when ("free" is "B"), (-(f7 of 15 CSF)) otherwise) waste 10%
    item i21 code "XX" cut round_up(((longer(g11, g11) when (yes or yes), square_root(5) otherwise) + ((f3 of g16) / (0% of g12)))), each (f7 of (round_down(24", to: 8½") when (8½" >= 18"), (-2.4 m) otherwise))
end
example "case 21"
    rooms  id "0"  f1 6 lb  f2 $6.40  f3 10%  f4 14 sqm  f5 moisture  f6 free  f7 7.5%
    shows g14 = 8.9 psf
end
