book "Book 0"  edition "2"
use "hardlid ceilings"
define d1(p0 percent) percent  =  p0 when (not (19 sf >= 5 sqm)), (p0 when (no is given), p0 otherwise) when (not (not no)), 7.5% when ((39.5 <= 22) or (2.4 m = 8'-6")), p0 when ((14.25) ^ 2 < (33.5 - 4.5)), 5% otherwise  source "a handbook, table 3"
table t2 "A table"
    k0 count, exact | k1 text, exact | got money
    1 | rated | $39.92
    2 | A | $18.44
end
table t3 "A table"  source practice
    k0 psf, exact | k1 is, exact | got number
    1.5 psf | rated | 12
    2.5 psf | A | 38.5
    3.5 psf | B | 31.5
    4.5 psf | grid | 35
end
for rooms
    replace spacing "Spacing"  =  16"  source practice
    item own4_bead "Bead" code "CB" need length" need length + width  only when layers > 1
    replace item tape  "Tape" code "JT" need length
end
example "of the ceilings"
    rooms id "1" length 5/8" width 8' sdc B
    shows length = 12'
end
for job
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
end
example "case 4"
    shows ("A") = "B"
    shows ((-((($31.11/m - $23.27/ft) * shorter(16", 10'-3 1/2")) + (($20.50/m * 600 mm) * (5/8" / 18"))))) = $39.81
    shows ((-$27.89)) = $12.68
end
example "case 4"
    shows (("free" is one of regular) when ((4 ft when no, 12' otherwise) > (24" when yes, 2.4 m otherwise)), (not ("free" is one of regular rated A B)) when ((-7.6 psf) <= 9.2 psf), ("free" is "regular") when ("regular" is one of regular rated), ((31 sf - 7 sf) >= (7.5% of 27 sf)) otherwise) = yes
    shows (100% when ((yes or yes) and ("rated" is one of regular rated A B)), 5% when ("free" is given), 7.5% otherwise) = 10%
    shows ((18" of  / 24")) = 15
end
example "case 4"
    shows (longer(27 hr, 2 hr)) = 22 hr
end

example "one layer, 10 by 12 ft, in SDC D"
    -- The run is 10 ft: one strongback, parts of 5 ft, tees at 24 in.: 12 ft is 6 spaces, 5 tees, at 2 to 10 ft.
    -- Free ends: wires from the first tee at 2 ft to the last at 10 ft, 8 ft at 3 ft o.c.: 3 spaces, 4 wires.
    rooms  id "1"  length 12'  width 10'  sdc D
    shows  strongbacks = 1   part = 5'   spacing = 24"   tees = 5   last_tee = 2'   wires = 4
end
