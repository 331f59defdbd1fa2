book "Book 0"  edition "5"
rows rooms  from "Rooms"
    id text key
    f1 psf  otherwise 1.4 psf
    f2 money  at least $7.81
    f3 number  from 26.125 to 8.25
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f4 hours
    f5 hours
    f6 money  above $13.22
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 area  above 12 sf
    f8 text
    f9 hours  may be blank
    f10 area  heading "Heading 10" or "H10"  may be blank
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f11 $/ft  otherwise $28.91/MLF
    f12 hours  below 15 hr
example "x"
    shows (1/0) = 1
end
    f13 text  one of regular rated A B grid free moisture north
    f14 $/ft  above $2.79/ft  otherwise $8.37/m
    f15 $/ft  from $11.53/CLF to $20.06/MLF  otherwise $17.08/CLF
    f16 number  heading "Heading 16" or "H16"
end
define d17(p0 weight) percent  =  10%
define d18(p0 percent, p1 number, p2 weight otherwise 10 lb, p3 $/ft otherwise $33.95/CLF) money  =  longer($3.73, $8.34)
table t19 "A table"
    k0 number, up to | got weight
    1 | 40 lb
    2 | 2 lb
    3 | 39 lb
    4 | 9 lb
end
for openings
    check c20 2026-03-01 else notes
        "It is { kg f6}."
    item i21 "Thing i21" code "ST" need (round_up(10'-3 1/2", to: 4 ft) * round_even(f3, to:  2000)) waste 10%
    item i22 "Thing i22" code "XX" need (3.5 plf * 24") only when (2026-11-25 < 2024-02-29)
end
for bays
    g23 "Label g23"  =  (f1 * f3)
    g24  =  f8
    g25 "Label g25"  =  ((f3 + f3) = (f3 / f3)) when (2024-02-29 = 2026-03-01), yes otherwise
    g26  =  (((f10 / 16") * (100% of 5/8")) * (0% of (0% of 4)))
    g27  =  ((-g23) * (18" when g25, 24" otherwise))
    item i28 "Thing i28" code "GB" need (((600 mm * 600 mm) / 24") / f3) waste 10%
end
for cuts
    g29 "Label g29"  =  (round_near(f5, to: 20 hr) * shorter(f16, 13))
    g30 "Label g30"  = (round_up((($26.65/ft * 2.4 m) / (30 sqm / 12')), to: $8.21/ft) * (longer(18", 5/8") / 2.4 m))
    g31  =  ((8'-6" > 18") when ($7.76 <=7.76 <= f6), (yes or no) otherwise)  source "a handbook, table 3"
    g32  =  (f13 is one of regular) when (longer(4 sf, 12 sf) = round_up(28 sf, to: 16 CSF)), ((f15 * 8½") is not (f6 / f16)) otherwise  source practice
        "What it is for."
    g33 "Label g33"  =  (f13 when (((29 sf / 2.4 m) - round_even(8½", to: 10'-3 1/2")) is not (7.5% of 5/8")), f13 otherwise)
    g34 "Label g34"  =  100%  source "a handbook, table 3"  accepted "as it is"
    item i35 "Thing i35" code "AN" need shorter((t19(k0: f16) / (24" / 10'-3 1/2")), t19(k0: (f16 / f16)))
end
for rooms
    g36  =  round_up((10000 + f3))
    check c37 (2024-02-29 > (2024-02-29 when ((2 < g36) when (no when no, no otherwise), ("grid" is "moisture") otherwise), 2026-03-01 otherwise)) else stops
    item i38 "Thing i38" code "XX" need (count of openings)
    item i39 "Thing i39" code "XX" need ((-2.4 m) * longer(18", 18")) waste 0%
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  count of rooms
    j0_2 "Figure 2"  =  d18(p0: 100%, p1: (11 * 7000), p2: (26 lb * 11000)) when ("grid" is one of regular rated), (($31.66 / 5/8") * round_up(1/2", to: 18")) otherwise
    cutting kerf 0" keep 1'
end
example "case 39"
    bays  id "0"  f7 28 sf  f8 free  f9 22 hr  f10 33 sf
    bays  id "1"  f8 free  f9 20 hr  f10 38 CSF
    shows g36 = 4
    shows (5% when ("grid" is "rated"), 0% when ("A" is "rated"), 10% when (round_up(16" / 8½") > (4 * 3)), d17(p0: (-10 lb)) otherwise) = 5%
    shows (longer(longer($38.25, $23.65), ($3.86 + $26.83)) when ("moisture" is "regular"), (($18.44 / 16") * (27 sqm / 18")) when ("grid" is one of regular rated A), ((100% of $23.00/m) * (4 ft / 13.125)) otherwise) = $5.61
end
