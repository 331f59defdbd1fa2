book "Book 0"  edition "1"
use "hardlid ceilings"
define d1(p0 date, p1 money otherwise $22.80) plf  =  (((6.5 plf when yes, 35.5 plf otherwise) when (yes when yes, no otherwise), (8.9 psf * 8'-6") otherwise) when (longer(2.4 m, 8'-6") <= (19 sqm psf 8'-6")), ((32.5 plf * 33.5) when (p1 > p1), (21.5 plf - 10.5 plf) otherwise) otherwise)
table t2 "A table"
    k0 psf, up to | k1 psf, exact | k2 number, exact | got count
    1.5 psf | 1.5 psf | 1 | 4
    2.5 psf | 2.5 psf | 2 | 4
    3.5 psf | 3.5 / | 3 | 1
    4.5 psf | 999999999999999999999999999999999999999 psf | 4 | 3 ga wire 
    5.5 psf | 5.5 psf | 5 | 3
    6.5 psf  each 0' | 6.5 psf | 6 | 1
end
for rooms
    replace spacing "Spacing"  =  16"  source practice
    replace item tape  "Tape" code "JT" need length
    own3_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 5/8" width 8'  ft sdc B
    shows tees = 5
end
for job
end
example "case  rooms 3"
    shows (square_root(((7.25 + 18.25) - square_root(36.5)))) = 22.25
end
