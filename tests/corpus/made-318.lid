book "Book 0"  edition "6"
rows rooms  from "Rooms"
    id text key
    f1 count  otherwise 1
end
define d2(p0 area) hours  =  round_even(longer((38 hr when no, 0 hr otherwise), (30 hr / 36.25)), to: 14 hr)  source practice
define d3(p0 length) psf  =  (9.4 psf * 15.125)
define d4(p0 text, p1 count, p2 psf otherwise 2.1 psf) hours  =  ((3 hr * 7.5) when (p0 is "north"), d2(p0: 15 sf) otherwise)  source "a handbook, table 3"
        "What it is for."
table t5 "A table"  source practice
    k0 number, exact | k1 length, up to | k2 count, between | got weight
    1 | 8" | 1 | 6 lb
    2 | 16" | 2 | 23 lb
end
for rooms
    g6  =  ((8 sqm when no, 2 sqm otherwise) when (no is given), (35 sqm / 22.25) otherwise) when (shorter(9.7 psf, 5.3 psf) >= round_near(5.4 psf, to: 9.5 psf)), (round_down(5 CSF, to: 13 sf) + (8½" * 16")) when ("regular" is one of regular rated), shorter((31 CSF - 3 CSF), (33 CSF + 17 sf)) when ("north" is one of regular), shorter((4 ft * 8'-6"), (3 sf - 17 sqm)) otherwise
    g7 "Label g7"  =  10% when (3.5 psf is not 4.4 psf), 7.5% when ((g6 > g6) or (yes and no)), 7.5% when ("north" is given), 100% otherwise
    g8  =  (("grid" is "moisture") or ("grid" is one of regular rated A B))
    check c9 (((g7 of 4.5) > square_root(20.125)) when (("north" is one of regular) or (0.2 psf is not 6.6 psf)), ((21 sqm / 10'-3 1/2") > (18" + 8½")) when ("regular" is one of regular rated), (31.5 plf is given) otherwise) else stops
        "It is {g8}."
    item i10 code "XX" cut f1, each ((longer(24", 18") / (13.5 + 33.25)) / (-(30.125) ^ 0)) waste 10% only when (((-g6) > (g6 - 23 sf)) when ((g8 and g8) when ("regular" is one of regular rated A), (g8 or yes) otherwise), ((f1 > f1) or (17.25 > 18.25)) when ((g6 when g8, g6 otherwise) < (-g6)), ((g6 is given) or (g8 or g8)) when ($37.79 is given), (round_up(600 mm / 24") = f1) otherwise)
    item i11 code "AN" cut f1, each (-round_down((24" + 8'-6"), to: 8½"))
    item i12 "Thing i12" code "GB" need (-(-(g7 of g6))) waste 10%
end
for job
end
