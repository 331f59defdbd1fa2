book "Book 0"  edition "5"
use "hardlid ceilings"
use "layer 0"
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ( p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is(2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5(psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d1(p0 percent, p1 yes/no, p2 psf otherwise 1.5 psf) number  =  ((p0 of 8'-6") /  / (38 sf / 8'-6")) when (2024-02-29 < 2024-02-29), (-square_root(18)) when (("regular" is one of regular) or (2024-02-29 is not 2024-02-29)), "  longer(round_up(23.25, to: 6000), square_root(3.5)) otherwise
define d2(p0 hours, p1 area) area  =  (((longer(29 CSF, p1) * (25.5 / 6000)) + longer(longer(p1, p1), (22 sf * 13.5))) / square_root(d1(p0: 10%, p1: ($13.28 = $35.07))))
for rooms
    replace spacing "Spacing"  =  16"  source practice
    labor own3_work code "L-TEE" need length  rate 0.02 hr/ft
    replace item tape  "Tape" code "JT" need length
end
example "of the ceilings"
    rooms id "1" length 10'-3 1/2" width 8' sdc B
    shows tees = 5
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    j0_2 "Figure 2"  =  sum of lines (cost)
end
example "case 3"
    shows (longer((longer(round_near($23.05/ft, to: $21.01/m), (-$17.78/ft)) * ((30 CSF / 1/2") when (no and yes), (8'-6" + 1/2") otherwise)), ((($5.92 * 21000) / longer(5/8", 5/8"))* ((26 CSF when yes, 31 sf otherwise) / (-5/8"))))) = $23.68
end
