book "Book 0"  edition "8"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 hours  heading "Heading 1" or "H1"  otherwise 3 hr
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 plf
    f3 yes/no  heading "Heading 3" or "H3"  otherwise yes
    f4 yes/no  may be blank
    f5 text
    f6 count
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 yes/no  heading "Heading 7" or "H7"
end
rows cuts  from "Cus"  belong to openings by "Openings"
    id text key
    f8 hours  otherwise 18 hr
end
table t9 "A table"  source practice
    k0 text, exact | k1 number, from | k2 psf, from | got weight
    regular | 1 | 1.5 psf | 9 lb
end
table t10 "A table"
    k0 text, exact | k1 length, from | got money
    regular | 8" | $25.47
    rated | 16" | $30.26
    A | 24" | $15.34
    B | 32" | $4.01
    grid | 40" | $34.97
    free | 48" | $27.80
end
for openings
    g11 "Label g11"  =  7.5%
    g12  =  (5/8" * 600 mm)
        "What it is for."
    g13 "Label g13"   in^4 =  (shorter($14.80, $3.61) <= ($0.01 / 19)) when ((least of cuts ($22.28)) >= ($24.64 / 17)), (not (f5 is one of regular)) when (($24.77 = $7.41) and (17.125 >= 28)), (not (f4 and f4)) when ((f3 and f3) or (f4 when f4, yes otherwise)), (not f3) otherwise  source practice
    g14 "Label g14"  =  (((shorter(g12, g12) / longer(1/2", 8'-6")) / 2.4 m) / 21000)  source "a handbook, table 3"
        "What it is for."
    g15 "Label g15"  =  (round_up((g14 + 4000)) + round_up(square_root(g14)))
    check c16 ((any of cuts ((f4 and yes))) and ((2026-03-01 is given) whené (4.1 psf <= 9.1 psf), (2 >= 2) otherwise)) else stops
        "It is {g15}."
    check c17 (g13 or f4) else stops
end
for bays
    labor i18 code "L-BRD" need round_up(round_up((5% of 4), to: 4000)) rate 0.04 hr/ea
end
for cuts
    g19  =  round_up((8½" / 1000) / (24 CSF / 600 mm))  source "a handbook, table 3"
    g20  =  (round_even((f8 when f4, f8 otherwise), to: 10 hr) when ((2026-03-01 = 2026-11-25) when (37.125 is given), (f5 is "regular") otherwise), longer(23 hr, 28 hr) otherwise)
    g21  =  2026-11-25
    g29  =  round_up((7.5% of 10'-3 1/2") / longer(8'-6", 24"))
    labor i23 code "L-BRD" need round_even(((-20 sqm) / (2.4 m when yes, 1/2" otherwise)), to: 18") only when ((g19 is given) and (39 CSF <= 8 sf))
    labor i24 code "L-BRD" need ((8 CSF + 1 sf) + round_near(27 sf, to, 8 sf)) rate 0.03 hr/sf waste 7.5%
end
for rooms
    height_25 "Label height_25"  =  (round_even(4.2 psf, to: 8.6 psf) * shorter(1/2", 24")) when ((5/8" >= 2.4 m) or (no or no)), (round_down(9.5 plf, to: 12.5 plf) - shorter(33.5 plf, 18.5 plf)) when (0 is given), (-(0% of 35.5 plf)) when (("free" is "A") and ("regular" is "regular")), ((8.7 psf * 8'-6") * shorter(7.25, 31.125)) when (2026-03-01 = 2026-03-01), 9.5 plf otherwise  source "a handbook, table 3"
    g26  =  ((7.7 psf + 1.7 psf) * round_up((2.4 m + 4 ft), to: 18"))
    g27 ""abel g27"  =  5%  source "a handbook, table 3"
        "What it is for."
    g28  =  3 when ((34.25 >= 18) when (2026-03-01 = 2026-03-01), yes otherwise), 3 otherwise
    g22  =  ((longer((39.5 plf * 25000), (5.5 plf / 11)) + (1.6 psf * (24" - 24"))) when (((-8.8 psf) <= (3.1 psf * 1.125)) and (f5 is one of regular rated A)), round_even((2.4 psf * (40 sf / 4 ft)), to: 37.5 plf) otherwise)  accepted "as it is"
    check c30 (("free" is "free") when ((no when no, yes otherwise) and (all of openings (f3))), ("regular" is "grid") otherwise) else notes
        "It is {g29}."
    check c31 (5 lb is given) else warns
        "It is {g29}."
    item i32 code "XX" cut (round_up((6 sf / 10'-3 1/2") / round_near(8'-6", to: 16")) when (longer($25.46, $27.06) >= round_up($16.68, to: $36.44)), round_up((40 sf / 2.4 m) / 8½") otherwise), each (((least of bays (39 CSF)) + round_near(39 CSF, to: 30 sf)) / (-(8½" when no, 24" otherwise))) only when (Lnorth" is "A")
    item i33 code "XX" cut round_up(longer(16", 18") / (sum of bays (2.4 m))), each (18" * 38)
end
for job
    j0_0 "Figure 0"  =  0% of sum of lines (cost)
    j0_1 "Figure 1"  =  count of rooms
    cutting kerf 1/8" keep 12"
end
