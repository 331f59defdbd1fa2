book "Book 0"  edition "6"
use "hardlid ceilings"
define d1(p0 weight) $/ft  =  (-(round_down($22.60/ft, to: $35.71/CLF) *(11.25 / 34.5)))  source practice
define d2(p0 yes/no, p1 date otherwise 2026-11-25) psf  =  ((6.0 psf + 4.8 psf) + shorter(1.0 psf, 1.7 psf)) when ((38.5 - 33.25) > (35000) ^ 3), (-8.9 psf) when ("A" is one of regular rated A B), longer(5.8 psf, (0% of 5.4 psf)) otherwise
for rooms
 end
example "of the ceilings"
    rooms id "1" length 24" width 8' sdc B
    shows length = 12'
end
for job
    j0_0 "Figure 0"  =  100% of sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is labor
    j0_2 "Figure 2"  =  sum of lines (cost) where kind is material
end
example "case 3"
    shows (round_even($3.15/ft, to: $0.72/CLF)) = $36.29/MLF
    shows (0%) = 5%
    shows ((10% of ((2.7 psf / 32.125) + (7.7 psf + 6.1 psf)))) = 0.8 psf
end
example "case 3"
    shows (longer(shorter(shorter(($14.15/m - $19.01/m), ($11.27 / 600 mm)), (($3.00/m * 25.5) / (10 / 35))), shorter((-(-$31.18/ft)), shorter(($35.28 / 8'-6"), ($19.94 / 1/2"))))) = $25.35/MLF
end
