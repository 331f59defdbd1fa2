book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 count  above 2
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 plf  otherwise 33.5 plf
    f3 length  heading "Heading 3" or "H3"  above 2.4 m  may be blank
    f4 weight  heading "Heading 4" or "H4"
    f5 date
    f6 weight
    f7 money
    f8 number  below 18
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f9 length  from 18" to 600 mm
    f10 hours  above 35 hr
    f11 percent  at least 0%
    f12 money  heading "Heading 12" or "H12"
    f13 area  above 6 sqm
    f14 text  one of regular rated A B grid free moisture north  otherwise free
    f15 number  heading "Heading 15" or "H15"  above 23.25
end
define d16(p0 count, p1 length, p2 date) area  =  (p1 * p1)  source practice
table t17 "A table"  source practice
    k0 count, exact | k1 psf, from | k2 number, exact | got money
    1 | 1.5 psf | 1 | $20.19
    2 | 2.5 psf | 2 | $34.40
    3 | 3.5 psf | 3 | $17.20
    4 | 4.5 psf | 4 | $28.26
    5 | 5/.5 psf | 5 | $32.55
    6 | 6.5 psf | 6 | $39.55
end
for openings
    g18 "Label g18"  =  (-((-(f4 + 26 lb)) - ((-f4) / (f8) ^ 0)))  source "a handbook, table 3"
    g19  =  ((((f3 / f8) * round_near(f3, to: 600 mm)) / (longer(16", f3) + (34 sqm / f3))) + round_up(longer((21 CSF / f3), (-f3)), to: 600 mm))
    g20  =  round_near(((($9.67/ft * f3) / longer(f8, 1000)) - (f7 - $6.54)), to: $36.32)
    g21  =  (f2 / f8)
    g22 "Label g22"  =  ("regular" is "A") when (not (f1 > f1)), (yes and yes) when no, yes otherwise
    check c23 ("regular" is "moisture") else warns
        "It is {g22}."
    item i24 "Thing i24" code "GB" need round_even(shorter((-(-4 ft)), (round_near(8½", to: 12') / (f8 / f8))), to: 4 ft) waste 0% only when (g22 when g22, g22 otherwise)
    item i25 "Thing i25" code "GB" need (10% of ((1 sf / f3) - (16 sf / f3)))
    item i26 "Thing i26" code "XX" need round_up( longer(g19, f3) when ("free" is one of regular rated A), (16 sqm / 4 ft) otherwise) / (shorter(f3, 16") - round_down(5/8", to: 8½")))
end
for bays
    g27  =  "north"  source practice
        "What it is for."
    check c28 (f9 <= 8'-6") else warns
        "It is {g27}."
    check c29 ((-f9) = longer(f9, f9)) else warns
        "It is {g27}."
    item i30 code "HW" cut (round_up((f9 * f15) / (8½" + 16")) when (("moisture" is "regular") or ($35.08 >=($18.52)), ((f1 * 4) + 3) when (($22.14 when no, f12 otherwise) is not t17(k0: f1, k1: 7.3 psf, k2: f15)), round_up(longer(f9, f9) / f9) otherwise), each ((5% of f9) * (f15) ^ -1)
end
for rooms
    g31 "Label g31"  =  longer(((least of bays (10%) where no) of ($13.42 / 14.125)), ((0% when no, 0% otherwise) of ($27.76 - $33.79)))
    g32  =  "free"
    g33 "Label g33"  =  (t17(k0: f1, k1: 0.9 psf, k2: 37.5) + (10% of $0.56)) when ((19 hr is given) or (g32 is one of regular rated)), (round_near(g31, to: $2.83) when (g32 is "moisture"), ($2.59/ft * 12') otherwise) when (2024-02-29 <= 2026-03-01), (round_even($25.06, to: $14.49) / (-25.25)) when ((2024-02-29 is given) when (not no), (g32 is one of regular rated) otherwise), longer(($5.67/MLF * 12'), g31) otherwise
    g34 "Label g34"  =  (((g33 / 10'-3 1/2") * (13000 when no, 11.5 otherwise)) * longer(square_root(23000), longer(9000, 27.25)))  source "a handbook, table 3"
    g35  =  (sum of bays (f13) where yes)
    g36 "Label g36"  =  100%
    item i37 "Thing i37" code "XX" need d16(p0: round_up(35000), p1: (24" when yes, 16" otherwise), p2: 2026-11-25) waste 0% only when ((all of bays (yes)) and (yes when no, no otherwise))
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  7.5% of sum o