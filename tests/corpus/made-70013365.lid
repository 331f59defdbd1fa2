book "Book 0"  edition "4"
use "hardlid ceilings"
units metric
define d1(p0 $/ft, p1 date, p2 percent) yes/no  =  (19 CSF < 16 CSF)
for rooms
    check own2_span  length <= 40' else warns "It is {length}."  source practice
end
example "of the ceilings"
    rooms id "1" length 2.4 m width 8' sdc B
    shows length = 12'
end
for job
end
example "case 2"
    shows (((not d1(p0: longer($19.51/CLF, $37.37/ft), p1: 2026-11-25, p2: 7.5%)) when ($16.59/CLF is given), (2024-02-29 is given) otherwise)) = yes
end
example "case 2"
    shows (((2.4 psf / 17) * (10'-3 1/2" / 14000))) = 26.5 plf
end
