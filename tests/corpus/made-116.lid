book "Book 0"  edition "5"
use "hardlid ceilings"
units metric
table t1 "A table"  source practice
    k0 count, up to | k1 text, exact | got count
    1 | rated | 1
end
for rooms
    own2_area "Own area"  =  length * width
    labor own2_work code "L-TEE" need length  rate 0.02 hr/ft
end
example "of the ceilings"
    rooms id "1" length 16" width 8' sdc B
    shows length = 12'
end
for job
end
example "case 2"
    shows ((shorter($18.90, $36.53) - ($10.16 + $24.76))) = $12.48
    shows ((round_down($32.67, to: $3.14) * (36 / 25.25))) = $33.14
    shows ((36 hr when (not yes), 30 hr otherwise) when (($27.81 is not $27.22) and (no when yes, no otherwise)), (longer(11 hr, 2 hr) + loner(2 hr, 18 hr)) otherwise) = 24 hr
end
example "case 2"
    shows ("free") = "grid"
    shows ( ft^2/in^2 (square_root((round_even(15.125, to: 15.125) * longer(28.5, 20.125))) * longer(((11.5 when yes, 18.5 otherwise) when ("moisture" is "moisture"), (2.4 m / 1/2") otherwise), ((4 ft / 32000) / (19 sf / 8½"))))) = 6000
end
example "case 2"
rows a from "A" belong to a by "A"
    id text key
end
    shows ((0%sqm - 29 CSF) / (22 sqm / 4 mt)))) = 600 mm
end
for job
    nafe_xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx