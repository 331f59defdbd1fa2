book "Book 0"  edition "4"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 count  below 4  may be blank
    f2 number
    f3 length  heading "Heading 3" or "H3"  otherwise 600 mm
    f4 yes/no  heading "Heading 4" or "H4"
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 length  may be blank
    f6 length  heading "Heading 6" or "H6"  from 4 ft to 12'
    f7 hours  at least 28 hr
    f8 hours  may be blank
    f9 percent  at least 100%
    f10 text  heading "Heading 10" or "H10"  one of regular rated A B grid free moisture north
    f11 weight  otherwise 1 lb
end
define d12(p0 $/ft, p1 weight otherwise 13 lb) date  =  (2026-03-01 when ((shorter(3.6 psf, 6.4 psf) / longer(6000, 34.25)) > round_near(2.4 psf, to: 4.0 psf)), 2026-03-01 otherwise)
define d13(p0 yes/no, p1 area otherwise 20 CSF, p2 plf otherwise 39.5 plf) number  =  round_down((27000 + 4.25), to: 20000) when ((0.9 psf - 6.0 psf) <= (-7.5 psf)), (5% of (11.125 / 0.125)) when ("north" is one of regular), ((38 - 2) - longer(10.125, 30.5)) when p0, 26 when p0, 20.125 otherwise
table t14 "A table"
    k0 psf, exact | k1 number, from | got length
    1.5 psf | 1 | 10'-3 1/2"
end
table t15 "A table"
    k0 text, exact | k1 psf, from | k2 psf, up to | got length
    regular | 1.5 psf | 1.5 psf | 8'-6"
    rated | 2.5 psf | 2.5 psf | 10'-3 1/2"
end
for openings
    g16 "Label g16"  =  shorter((-f7), f7)
    g17 "Label g17"  =  (round_up((f2 - f2)) + round_up((f5 - 8'-6") / f3))
    check c18 ((18 lb is given) or ((square_root(f2) + (f9 of f2)) >= longer(round_up(17.25, to: 5), 35.25))) else notes
    check c19 (f10 is one of regular rated A B) else warns
        "It is {g17}."
    item i20 code "GB" cut (f1 when (f5 is given), ((f1 when no, 3 otherwise) * round_up(f2)) otherwise), each (longer(12 sf, 27 sf) / (f5 * f2)) waste 5%
    item i21 "Thing i21" code "GB" need (-round_down((29.5 plf * f5), to: 23 lb)) waste 10%
end
for rooms
    check c22 ((-longer(8.6 psf, 1.3 psf)) >= (5% of (0.2 psf + 7.7 psf))) else stops
    check c23 (2026-11-25 > (2026-03-01 when no, 2026-11-25 otherwise)) else warns
        "It is {f4}."
    labor i24 code "L-BRD" need (sum of openings (f5)) rate 0.07 hr/ft waste 5%
    item i25 "Thing i25" code "ST" need (2 + f1)
    item i26 code "GB" cut (f1 * (f1 * (f1 when f4, f1 otherwise))), each ((f3 + f3) - (10% of f3))
end
for job
    j0_0 "Figure 0"  =  round_near(($6.49 + $33.38), to: $16.18)
    j0_1 "Figure 1"  =  10% of sum of lines (cost)
    j0_2 "Figure 2"  =  5% of sum of lines (cost)
    total "Total"  =  sum of lines (cost)
end
