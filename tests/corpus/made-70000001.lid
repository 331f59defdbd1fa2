book "Book 0"  edition "2"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 text
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 text  one of regular rated A B grid free moisture north  otherwise regular
    f3 percent  heading "Heading 3" or " lb H3"
    f4 percent
end
define d5(p0 $/ft) percent  =  0%
define d6(p0 area, p1 weight, p2 money, p3 percent) hours  =  ((((p3 of 30 hr) - (22 hr + 29 hr)) - longer(19 hr, 29 hr)) - 33 hr)
define d7(p0 psf) $/ft  =  (($0.02/ft + $22.57/MLF) when (4 is not 3), ($9.75/m / 30.25) otherwise) when ((24 sqm <= 2 sf) and ("A" is "regular")), $36.90/ft when yes, $11.11/m when no, $10.65/m when yes, $6.77/MLF otherwise
table t8 "A table"  source practice
    k0 length, from | k1 psf, exact | got count
     8" | 1.5| 1.5 psf | 0
    16" | 2.5 psf | 3
    24" | 3.5 psf | 4     32" | 4.5 psf | 0
end
for openings
    g9 "Label g9"  =  ($22.66 * 0.25)
    g10 "Label g10"  =  (f3 of longer(0.4 psf, 5.3 psf)) when ((4 ft is not 2.4 m)
when (7.1 psf is not 0.3 psf), (no or yes) otherwise), (shorter(1.4 psf, 4.7 psf) when (26.5 is not 20.5), (7.4 psf / 30) otherwise) otherwise otherwise) otherwise
        "What it is for."
    g11  =  10%
    g12  =  g11  source practice
    check c13 (f1 is "grid") else notes
    check c14 (shorter(7.8 psf, g10) < (g11 of g10)) else stops
    item i15 "Thing i15" code "XX" need (g12 of 2 sf)
end
    g19 "Label g19"  =  g18
    item i20 "Thing i20" code "AN" need (-(((7.5% of 2.4 m) * (7.5% of 5/8")) - (-(8½" * 8'-6")))) only when (any of openings (no))
    item i21 "Thing i21" code "HW" need ((-(36 CSF / 10'-3 1/2")) * (round_up(4 ft, to: 600 mm) + (-8'-6")))
end
for job
end
example "case 21"
    openings  id "0"  f3 10%  f4 10%
    shows ((longer(2.8 psf, 5.2 psf) + ((3.1 psf + 5.9 psf) * (23.25 - 19.25)))) = 2.6 psf
    shows (2026-11-25) = 2026-11-25
end
