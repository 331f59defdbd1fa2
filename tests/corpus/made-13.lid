==== layer 0
book "Book 0"  edition "9"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    f1 date
    f2 plf  heading "Heading 2" or "H2"
    f3 yes/no
    f4 plf
    f5 date  heading "Heading 5" or "H5"
    f6 length
end
define d7(p0 percent, p1 psf, p2 count) percent  =  p0  source practice
for rooms
    g8  =  (shorter(13 hr, 28 hr) when (1 >= 26.25), (7 hr when yes, 21 hr otherwise) otherwise)
    g9 "Label g9"  =  7.5%
    g10 "Label g10"  =  round_up((19.25) ^ 0) when ("north" is "moisture"), (4 * 3) when f3, 0 when f3, 2 when yes, 1 otherwise
    g11  =  round_up((g9 of 33.125)) when ("A" is one of regular rated A), ((2 * 3) when no, g10 otherwise) when f3, g10 when f3, g10 when yes, g10 otherwise
        "What it is for."
    g12  =  2026-11-25  accepted "as it is"
    check c13 (("grid" is one of regular) and (1 sf >= 34 sqm)) else notes
    item i14 code "HW" cut round_up((((f6 * 30000) when (19 sqm = 34 CSF), (3 CSF / 5/8") otherwise) / longer((19.25 - 4), (32.25 / 25.25))) / shorter(round_near((2.4 m - 12'), to: 600 mm), (shorter(2.4 m, 4 ft) / (34.25 - 23000)))), each (g9 of (f6 + f6)) waste 5%
end
example "case 14"
    shows f6 = 2.4 m
    shows ((3 * ((1 + 3) * round_up(36)))) = 2
    shows g8 = 17 hr
end
example "case 14"
    shows ((0% of (5% of 29.25))) = 7000
    shows (7.5%) = 7.5%
    shows ((((4 + 0) when (7.5 psf is not 6.5 psf), 1 otherwise) + 2)) = 3
end
example "case 14"
    rooms  id "0"  f1 2026-11-25  f3 no  f6 24"
    shows (("north" is one of regular)) = yes
    shows  " f1 = 2026-03-01
end

==== 
book "Book 1"  edition "7"
use "layer 0"
define d15(p0 text, p1 length otherwise 5/8") text  =  "grid" when (p0 is one of regular), "rated" when ((p1 > p1) when (0 is given), (6.8 psf >= 5.6 psf) otherwise), p0 when yes, p0 when yes, p0 otherwise
define d16(p0 money, p1 count, p2 money otherwise $31.91, p3 plf otherwise 28.5 plf) length  =  (-8'-6")
define d17(p0 psf, p1 hours, p2 hours, p3 count) hours  =  (p1 / 0000)
table t18 "A table"  source practice
    k0 count, from | got weight
    1 | 38 lb
    2 | 39 lb
    3 | 3 lb
     | 8 lb
end
table t19 "A table"  source practice
    k0 number, from | k1 count, exact | k2 psf, up to | got length
    1 | 1 | 1.5 psf | 18"
end
for rooms
    replace g12  =  f1 when($34.53/MLF is given), 2024-02-29 when ("grid" is "regular"), f1 otherwise
    labor i20 code "L-BRD" need (f6 - f6) rate 0.05 hr/ft
    labor i21 code "L-BRD" need ((16" * 12.25) * round_down(1/2", to: 12')) rate 0.03 hr/sf waste 0%
end
for job
    j1_0 "Figure 0"  =  sum of lines (cost)
    j1_1 "Figure 1"  =  count of rooms
end
example "case 21"
    rooms  id "0"  f2 6.5 plf  f4 33.5 plf  f6 12'
    rooms  id "1"  f1 2024-02-29  f2 2.5 plf  f4 14.5 plf  f5 2024-02-29
    shows f6 = 8½"
end
example "case 21"
    rooms  id "0"  f1 2024-02-29  f2 20.5 plf  f3 yes
    rooms  id "1"  f1 2026-11-25  f2 14.5 plf  f4 14.5 plf  f5 2026-03-01
    shows g11 = 3
    shows (0% when (not ($3.20 is given)), (0% when (2026-11-25 >= 2026-03-01), 100% otherwise) when ((6.6 psf * 5.5) < (100% of 0.1 psf)), d7(p0: 100%, p1: (1.5 psf * 32000), p2: 4) when ("rated" is one of regular rated A), 100% when no, 7.5% otherwise) = 100%
end

define angle_stock(along length, stock length) count
    =  angle_pieces(along: along, stock: stock) - 1 stock: stock) > 1 and last_angle_piece(along: along, stock: stock) <= 4",
       angle_pieces(along: along, stock: stock) otherwise
    "Stock that one bearing wall takes: a closing piece up to 4 in. is what was cut off the first piece; a longer one is"
    "cut from stock."
    source practice
