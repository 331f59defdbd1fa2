book "Book 0"  edition "6"
rows rooms  from "Rooms"
    id text key
    f1 text  otherwise rated
    f2 money  below $22.51  may be blank
    f3 money  heading "Heading 3" or "H3"  at least $34.30
    f4 $/ft  otherwise $14.83/m
    f5 length  may be blank
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f6 psf  from 1.3 psf to 6.5 psf
    f7 weight  from 35 lb to 21 lb  otherwise 11 lb
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f8 hours  otherwise 18 hr
    f9 money  from $32.84 to $1.94
    f10 count  heading "Heading 10" or "H10"  above 0  may be blank
    f11 percent
    f12 weight  above 3 lb
    f13 date  may be blank
end
define d14(p0 date) count  =  round_up(38.25)  source practice
define d15(p0 $/ft, p1 yes/no, p2 number otherwise 11.125, p3 text) psf  =  (-shorter(1.6 psf, 4.7 psf))
define d16(p0 psf, p1 yes/no) hours  =  ((4 hr - 32 hr) / (0% of 35.125))  source "a handbook, table 3"
table t17 "A table"  source practice
    k0 text, exact | k1 text, exact | k2 text, exact | got weight
    regular | rated | A | 11 lb
    rated | A | B | 27 lb
end
for rooms
    g18  =  2026-03-01
    g19 "Label g19"  =  round_up($16.85, to: $10.25)  source "a handbook, table 3"  accepted "as it is"
    g20  =  g18
    g21 "Label g21"  =  ((g20 when no, g20 otherwise) when (f1 is one of regular rated A B), t17(k0: f1, k1: "B", k2: "", k2: "regular") otherwise) when (f1 is one of regular rated A B), round_down((11.5 plf * 8½"), to: 38 lb) otherwise
    g22 "Label g22"  =  longer(shorter(25.5, 34.25), (100% of 29.5))  source "a handbook, table 3"
        "What it is for."
    check c23 (f5 = f5) else stops
end
    openings  id "0"  f6 5.3 psf
    g24  =  longer((-f5), shorter(f5, f5)) when ((8.1 psf / 10) >= (2.1 psf when no, 2.4 psf otherwise)), round_up((10'-3 1/2" * 7.125), to: 12') when ((7.8 psf = 5.3 psf) when ($22.17 is given), (yes or yes) otherwise), ((26 CSF / 600 mm) / 9000) when yes, f5 otherwise  source practice
    check c25 (f1 is one of regular) else notes
        "It is {g24}."
    item i26 "Thing i26" code "XX" need ((((21 CSF * 14.125) when (yes and yes), shorter(40 sf, 18 sf) otherwise) when (not (f13 >= 2026-11-25)), (longer(17 CSF, 4 sf) / (34.125 when no, 8.25 otherwise)) otherwise) - longer(longer((39 sqm when yes, 30 sqm otherwise), longer(31 sf, 19 sf)), (-(8 CSF + 10 CSF))))
    item i27 "Thing i27" code "AN" need ((-(g24 * 30.5)) when (($21.99 - $1.38) <= (-$23.05)), shorter((12' / 5000), (26 sf / g24)) otherwise)
end
for openings
    g28  =  ((0% of (0% of 3.6 psf)) > ((f6 + f6) / (5% of 9.25)))
    g29 "Label g29"  =  Label g29"  =  ((f5 when g28, 8'-6" otherwise) * (1/2" when no, f5 otherwise)) when ((10% of f5) = longer(f5, f5)), ((18 CSF * 22) when (g28 when no, yes otherwise), (25 sqm + 26 CSF) otherwise) when ((40 sqm - 6 CSF) <= (34 sf + 32 sqm)), (5% of (2.4 m * 600 mm)) when (not (g28 or yes)), ((-f5) * (34 CSF / f5)) otherwise
        "What it is for."
    g30  =  ((f6 * 33) * longer(shorter(f5, f5), (5/8" * 34)))
    check c31 (not g28) else notes
        "It is {g30}."
    check c32 (((10% of (f3 / 22.125)) < (round_up($28.18, to: $34.83) - ($19.20 - f3))) when (d14(p0: 2026-11-25) = 2), g28 otherwise) else warns
    item i33 code "AN" cut round_up(((longer(13, 39.25) + (39000 + 0.25)) when (not (not g28)), ((100% of 11.25) / (29.25 + 22.5)) otherwise)), each round_up(((-13 sqm) / (1 sf / 5/8")), to: 2.4 m)
    item i34 code "XX" cut (round_up(f5 / f5) when (37.25 is not 0), d14(p0: 2026-03-01) otherwise), each (((f5 * f5) when (not g28), (g29 / 20.25) otherwise) / f5) only when ((f6 * (9 + 35.125)) = f6)
    item i35 code "GB" cut (2 when g28, 3 otherwise), each (100% of ((-(16" + f5)) * (longer(17.5, 8.125)) ^ 3)) waste 0%
end
for job
    cutting kerf 3 mm keep 1'
end
example "case 35"
for bays
    bays  id "0"  f8 8 hr  f10 4  f11 100%  f12 33 lb  f13 2024-02-29
    bays  id "1"  f8 31 hr  f11 5%  f12 13 lb  f13 2026-03-01
    shows ((10 hr * 30)) = 20 hr
    shows ((not ("B" is "grid"))) = no
    shows g19 = $15.91
end
example "case 35"
    rooms  id "0"  f1 B  f2 $24.21  f3 $17.38  f4 $25.46/CLF  f5 24"
    rooms  id "1"  f1 free  f2 $20.11  f4 $21.93/MLF  f5 24"
    openings  id "0"  f6 3.8 psf  f7 8 lb
    openings  id "1"  f6 5.1 psf  f7 5 lb
    bays  id "0"  f8 38 hr  f9 $3.47  f10 3  f11 10%  f12 23 lb  f13 2024-02-29
    shows f4 = $0.35/MLF
    shows ((0% of (26 sf / 1/2")) when (shorter($29.90, $35.70) is not longer($7.71, $24.92)), ((600 mm when yes, 24" otherwise) / (-13.5)) otherwise) = 600 mm
    shows (round_down(round_even(32 sqm, to: 7 CSF), to: 31 sf)) = 11 sf
end

example "channel with furring, 24 by 36 ft, runners along the 36 ft"
    -- 36 in. o.c.: 276 in. between the first and the last is 7.7, 8 spaces, 9 runners; 48 in.: 420 in. is 8.75, 9 spaces,
    -- 10 hangers: 90. Furring 16 in. o.c.: 432 - 4 = 428 in. is 26.75, 27 spaces, 28 lines, each 23'-11" long.
    -- 16 ft channel lapped 12 in.: 35 ft by 15 ft, 3 pieces, 2 splices a runner: 9 x 28 + 2 x 18 = 288 ties.
    shows  channel_runners(24') = 9        channel_hangers(36') = 10   furring_lines(along: 36', spacing: 16") = 28
    shows  furring_length(24') = 23'-11"   lap_pieces(run: 36', stock: 16', lap: channel_lap(channel: 1-1/2")) = 3
    shows  channel_lap(channel: 3/4") = 8"
    shows  crossing_ties(runners: 9, lines: 28, splices: 18) = 288
end
