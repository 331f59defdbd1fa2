book "Book 0"  edition "3"
use "hardlid ceilings"
units metric
define d1(p0 yes/no) date  =  2026-03-01
define d2(p0 count) count  =  ((p0 + p0) + round_up(16" / 2.4 m))  source "a handbook, table 3"
define d3(p0 hours, p1 weight, p2 hours) hours  =  shorter(p2, p0) when ((13 sqm < 19 sf) or (" rated A B)), (shorter(34 hr, p2) + shorter(p0, p2)) otherwise  source practice
    k0 text, exact | k1 number, up to | k2 text, exact | got weight
    regular | 1 | A | 38 lb
    rated | 2 | B | 26 lb
    A | 3 | grid | 8 lb
end
for rooms
    replace spacing "Spacing"  =  16"  source practice
    check own5_span  length <= 40' else warns "It is {length}."  source practice
    item own5_bead "Bead" code "CB" need length + width  only when layers > 1
    labor own5_work   "L-TEE" need length  rate 0.02 hr/ft
    own5_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise
end
example "of the ceilings"
    rooms id "1" length 10'-3 1/2" width 8' sdc B
    shows width = 8'
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  10% of sum of lines (cost)
    j0_2 "Figure 2"  =  sum of lines (cost)
end
example "case 5"
    shows ((($36.08/m * 600 mm) / (8'-6" when no, 24" otherwise))) = $32.45/MLF
end
example "case 5"
    shows ((((round_down(4.125, to: 24.5)) ^ 2 / (23.25 - 30.25)) when no, 22000 otherwise)) = 1.5
    shows (((($39.25 - $29.51) / longer(24", 8'-6")) * ((18" when yes, 5/8" otherwise) + (16" + 5/8")))) = $29.88
end
example "case 5"
    shows ((((8.7 psf * 4 ft) / (-21)) - 9.5 plf)) = 32.5 plf
end
example "many"
    shows (1 + 0) = 0
    shows (1 + 1) = 1
    shows (1 + 2) = 2
    shows (1 + 3) = 3
    shows (1 + 4) = 4
    shows (1 + 5) = 5
    shows (1 + 6) = 6
    shows (1 + 7) = 7
    shows (1 + 8) = 8
    shows (1 + 9) = 9
    shows (1 + 10) = 10
    shows (1 + 11) = 11
    shows (1 + 12) = 12
    shows (1 + 13) = 13
    shows (1 + 14) = 14
    shows (1 + 15) = 15
    shows (1 + 16) = 16
    shows (1 + 17) = 17
    shows (1 + 18) = 18
    shows (1 + 19) = 19
    shows (1 + 20) = 20
    shows (1 + 21) = 21
    shows (1 + 22) = 22
    shows (1 + 23) = 23
    shows (1 + 24) = 24
    shows (1 + 25) = 25
    shows (1 + 26) = 26
    shows (1 + 27) = 27
    shows (1 + 28) = 28
    shows (1 + 29) = 29
    shows (1 + 30) = 30
    shows (1 + 31) = 31
    shows (1 + 32) = 32
    shows (1 + 33) = 33
    shows (1 + 34) = 34
    shows (1 + 35) = 35
    shows (1 + 36) = 36
    shows (1 + 37) = 37
    shows (1 + 38) = 38
    shows (1 + 39) = 39
    shows (1 + 40) = 40
    shows (1 + 41) = 41
    shows (1 + 42) = 42
    shows (1 + 43) = 43
    shows (1 + 44) = 44
    shows (1 + 45) = 45
    shows (1 + 46) = 46
    shows (1 + 47) = 47
    shows (1 + 48) = 48
    shows (1 + 49) = 49
    shows (1 + 50) = 50
    shows (1 + 51) = 51
    shows (1 + 52) = 52
    shows (1 + 53) = 53
    shows (1 + 54) = 54
    shows (1 + 55) = 55
    shows (1 + 56) = 56
    shows (1 + 57) = 57
    shows (1 + 58) = 58
    shows (1 + 59) = 59
    shows (1 + 60) = 60
    shows (1 + 61) = 61
    shows (1 + 62) = 62
    shows (1 + 63) = 63
    shows (1 + 64) = 64
    shows (1 + 65) = 65
    shows (1 + 66) = 66
    shows (1 + 67) = 67
    shows (1 + 68) = 68
    shows (1 + 69) = 69
    shows (1 + 70) = 70
    shows (1 + 71) = 71
    shows (1 + 72) = 72
    shows (1 + 73) = 73
    shows (1 + 74) = 74
    shows (1 + 75) = 75
    shows (1 + 76) = 76
    shows (1 + 77) = 77
    shows (1 + 78) = 78
    shows (1 + 79) = 79
    shows (1 + 80) = 80
    shows (1 + 81) = 81
    shows (1 + 82) = 82
    shows (1 + 83) = 83
    shows (1 + 84) = 84
    shows (1 + 85) = 85
    shows (1 + 86) = 86
    shows (1 + 87) = 87
    shows (1 + 88) = 88
    shows (1 + 89) = 89
    shows (1 + 90) = 90
    shows (1 + 91) = 91
    shows (1 + 92) = 92
    shows (1 + 93) = 93
    shows (1 + 94) = 94
    shows (1 + 95) = 95
    shows (1 + 96) = 96
    shows (1 + 97) = 97
    shows (1 + 98) = 98
    shows (1 + 99) = 99
    shows (1 + 100) = 100
    shows (1 + 101) = 101
    shows (1 + 102) = 102
    shows (1 + 103) = 103
    shows (1 + 104) = 104
    shows (1 + 105) = 105
    shows (1 + 106) = 106
    shows (1 + 107) = 107
    shows (1 + 108) = 108
    shows (1 + 109) = 109
    shows (1 + 110) = 110
    shows (1 + 111) = 111
    shows (1 + 112) = 112
    shows (1 + 113) = 113
    shows (1 + 114) = 114
    shows (1 + 115) = 115
    shows (1 + 116) = 116
    shows (1 + 117) = 117
    shows (1 + 118) = 118
    shows (1 + 119) = 119
    shows (1 + 120) = 120
    shows (1 + 121) = 121
    shows (1 + 122) = 122
    shows (1 + 123) = 123
    shows (1 + 124) = 124
    shows (1 + 125) = 125
    shows (1 + 126) = 126
    shows (1 + 127) = 127
    shows (1 + 128) = 128
    shows (1 + 129) = 129
    shows (1 + 130) = 130
    shows (1 + 131) = 131
    shows (1 + 132) = 132
    shows (1 + 133) = 133
    shows (1 + 134) = 134
    shows (1 + 135) = 135
    shows (1 + 136) = 136
    shows (1 + 137) = 137
    shows (1 + 138) = 138
    shows (1 + 139) = 139
    shows (1 + 140) = 140
    shows (1 + 141) = 141
    shows (1 + 142) = 142
    shows (1 + 143) = 143
    shows (1 + 144) = 144
    shows (1 + 145) = 145
    shows (1 + 146) = 146
    shows (1 + 147) = 147
    shows (1 + 148) = 148
    shows (1 + 149) = 149
end
