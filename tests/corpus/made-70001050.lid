book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 date  may be blank
end
table t2 "A table"  source practice
    k0 psf, exact | k1 text, exact | k2 text, exact | got count
    1.5 psf | rated | A | 2
    2.5 psf | A | B | 0
    3.5 psf | B | grid | 0
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1" only when (((f1 >= f1) or (31 <= 7.125)) when ((26 CSF / 12') > 2.4 m), yes when no, no when no, no otherwise), way_2 "Way way_2"
    check c3 (round_up(4.125) > round_up(16)) else warns
        "It is {f1}."
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    j0_2 "Figure 2"  =  count of rooms
    cutting kerf 3 mm keep 12"
end
example "case 3"
    shows (((9 sf / 18") * (8'-6" when no, 2.4 m otherwise))) = 21 sf
    shows ("rated") = "free"
end
example "case 3"
    rooms  id "0"
    rooms  id "1"  f1 2024-02-29
    shows ("free") = "north"
end
example "case 3"
    rooms  id "0"
    shows f1 = 2024-02-29
    shows (((38.25) ^ 0 when (yes when no, yes otherwise), (3.5) ^ 2 otherwise)) = 4.5
    shows f1 = 2026-03-01
end
