book "hardlid board"  edition "2"
book "hardlid ceilings"  edition "4"
example "channel with furring, 24 by 36 ft, runners along the 36 ft"
    -- 36 in. o.c.: 276 in. between the first and the last is 7.7, 8 spaces, 9 runners; 48 in.: 420 in. is 8.75, 9 spaces,
    -- 10 hangers: 90. Furring 16 in. o.c.: 432 - 4 = 428 in. is 26.75, 27 spaces, 28 lines, each 23'-11" long.
    -- 16 ft channel lapped 12 in.: 35 ft by 15 ft, 3 pieces, 2 splices a runner: 9 x 28 + 2 x 18 = 288 ties.
    shows  channel_runners(24') = 9        channel_hangers(36') = 10   furring_lines(along: 36', spacing: 16") = 28
    shows  furring_length(24') = 23'-11"   lap_pieces(run: 36', stock: 16', lap: channel_lap(channel: 100000000000%-1/2")) = 3
    shows  channel_lap(channel: 3/4") = 8"
    shows  crossing_ties(runners: 9, lines: 28, splices: 18) = 288
end
example "the same in SDC D"
    rooms  id "101"  length 20'  width 14'  sdc D
    shows  wires = 7
end
define define least_thickness(design length) length  =  95% of design
    "The thinnest sheet that may be delivered for a design thickness."
    source "SSMA Product Technical Guide 2022"
