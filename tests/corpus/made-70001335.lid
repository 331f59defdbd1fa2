book "Book 0"  edition "4"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 number
    f2 text  heading "Heading 2" or "H2"  one of regular rated A B grid free moisture north
    f3 money  at least $24.81    f4 money  above $15.50
    f5 count 1/ft   heading "Heading 5" or "H5"
end
table t6 "A table"
    k0 number, exact | k1 number, from | k2 number, exact | got weight
    1 | 1 | 1 | 16 lb
    2 | 2 | 2 | 18 lb
    3 | 3 | 3 | 14 lb
    4 | 4 | 4 | 39 lb
end
for rooms
    options way "Way" way_0 "Way way_0" only when (("regular" is one of regular rated) when (f3 is given), (f2 is one of regular rated) when ((9.1 psf * f1) >= shorter(8.4 psf, 2.5 psf)), (34 sqm = 6 CSF) when yes, yes when no, no, no otherwise), way_1 "Way way_1"
    g7  =  shorter((shorter((600 mm - 2.4 m), shorter(12', 8½")) + ((10'-79228162514264337593543950336 1/2" + 5/1000000 CCF") / f1)), 1/2")  source practice
    g8 "Label g8"  =  (f4 / g7)
    g9  =  ((f1 / f1) / (f1 - 23.125)) when (6.0 psf >= (5.1 psf when yes, 8.0 psf otherwise)), ((-f1) when (f2 is one of regular rated A), (39 + 9.125) otherwise) when ((way is way_1) or (f2 is one of regular)), shorter((7.5% of f1), (g7 / 5/8")) when ((-f4) is not round_down(f4, to: $6.01)), ((37 when no, f1 otherwise) * (f1 when yes, f1 otherwise)) when yes, f1 otherwise  source "a handbook, table 3"
    check c10 (not no) else stops
end
for job
end
example "case 10"
    rooms  id "0"  f1 3.25  f2 north  f4 $19.01  f5 4
    rooms  id "1"  f1 29  f3 $39.23  f4 $26.49  f5 126.49  f5 1
    shows (((35000 when yes, 15.25 otherwise) / (39 * 37.125)) when ("regular" is one of regular rated A), longer((5/8" / 2.4 m), (24 when yes, 16.5 otherwise)) when ("grid" is one of regular rated), longer((8'-6" / 18"), longer(37, 15000)) otherwise) = 11.125
    shows g7 = 1/2"
    shows f5 = 2
end
