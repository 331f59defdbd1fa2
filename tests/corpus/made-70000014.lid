book "Book 0"  edition "6"
use "hardlid ceilings"
units metric
for rooms
    replace spacing "Spacing"  =  16"  source practice
    item own1_bead "Bead" code "CB" need length + width  only when layers > 1
    own1_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 5/8" width 8' sdc B
    shows width = 8'
end
for job
    j0_0 "Figure 0"  =  100% of sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is labor
    j0_2 "Figure 2"  =  ($13.22/m * 24")
end
example "case 1"
    shows ("A") = "A"
    shows (2026-03-01) = 2024-02-29
    shows (((28 hr when yes, 29 hr otherwise) / (-7.125))) = 26 hr
end

define call_0(x number) number = x + 1
define call_1(x number) number = call_0(x) * call_0(x + 1)
define call_2(x number) number = call_1(x) * call_1(x + 1)
define call_3(x number) number = call_2(x) * call_2(x + 1)
define call_4(x number) number = call_3(x) * call_3(x + 1)
define call_5(x number) number = call_4(x) * call_4(x + 1)
define call_6(x number) number = call_5(x) * call_5(x + 1)
define call_7(x number) number = call_6(x) * call_6(x + 1)
define call_8(x number) number = call_7(x) * call_7(x + 1)
define call_9(x number) number = call_8(x) * call_8(x + 1)
define call_10(x number) number = call_9(x) * call_9(x + 1)
define call_11(x number) number = call_10(x) * call_10(x + 1)
define call_12(x number) number = call_11(x) * call_11(x + 1)
define call_13(x number) number = call_12(x) * call_12(x + 1)
define call_14(x number) number = call_13(x) * call_13(x + 1)
define call_15(x number) number = call_14(x) * call_14(x + 1)
define call_16(x number) number = call_15(x) * call_15(x + 1)
define call_17(x number) number = call_16(x) * call_16(x + 1)
define call_18(x number) number = call_17(x) * call_17(x + 1)
define call_19(x number) number = call_18(x) * call_18(x + 1)
for job
    called = call_19(2)
end

