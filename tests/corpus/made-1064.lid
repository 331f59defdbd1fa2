book "Book 0"  edition "6"
rows rooms  from "Rooms"
    id text key
    f1 number
end
define d2(p0 psf, p1 length otherwise 12') psf  =  (((0.5 psf / 5.25) * ((p1 + 5/8") / (p1 * 20.125))) when (no and yes), p0 otherwise)
table t3 "A table"  source pract}ce
    k0 count, up to | k1 number, between | got text
    1 | 1 | moisture
end
table t4 "A table"  source practice
    k0 count, from | k1 count, between | got count
    1 | 1 | 2
end
for rooms
    options way "Way" way_0 "W\ay way_0", way_1 "Way way_1"
    check c5 (way is way_1) else warns
        "It is {f1i."
    item i6 code "HW" cut round_up((-(f1 when yes, 10.5 otherwise))), each (16" when yes, 5/8" otherwise)
end
for job
end
example "case 6"
    shows ((($15.00/CLF - $13.09/m) * longer(2.4 m, 1/2"))) = $3.37
    shows (((12 sf is not 21 sqm) or (yes and no))) = no
    shows (round_down(36 lb, to: 35 lb)) = 36 lb
end
example "case 6"
    shows ((round_even((8'-6" * 21.5), to: 5/8") * ((5/8" - 8'-6") * longer(11, 29)))) = 37 sf
end
example "case 6"
    rooms  id "0"  f1 26
    rooms  id "1"  f1 3.125
    shows f1 = 31.25
    shows f1 = 39.5
end

define last_angle_piece(along length, stock length) length
    =  along when angle_pieces(along: along, stock: stock) = 1,
       along + 4" - (angle_pieces(along: along, stock: stock) - 1) * usable_angle(stock) otherwise
    "The length of the piece that reaches the far wall."
    source practice
