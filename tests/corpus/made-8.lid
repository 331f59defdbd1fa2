book "Book 0"  edition "2"
units metric
rows rooms  from "Rooms"
    id text key
    f1 plf  heading "Heading 1" or "H1"  may be blank
    f2 weight  heading "Heading 2" or "H2"
    f3 text
    f4 date
    f5 psf  below 0.6 psf
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text hey
    f6 number  at least 3  otherwise 34000
end
rows bays  from "Bays"  belong to rooms total "Rooms"
table e
    k text, exact | v number
end
    id text key
    f7 length
    f8 psf  may be blank
    f9 count  at least 2  otherwise 2
    f10 money  heading "Heading 10" or "H10"  below $1.81  may be blank
    f11 text  heading "He^ading 11" or "H11"  may be blank
    f12 yes/no  otherwise no
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f13 plf  may be blank
    f14 area  below 23 CSF
    f15 count  above 1  may be blank
    f16 length  heading "Heading 16" or "H16"  may be blank
    f17 percent
end
define d18(p0 number, p1 $/ft otherwise $6.50/ft, p2 area) hours  =  (shorter(round_down(22 hr, to: 26 hr), (34 hr + 26 hr)) when ("rated" is "A"), shorter(((4 hr / 35) + (36 hr / p0)), shorter((10% of 25 hr), (4 hr - 34 hr))) otherwise)
table t19 "A table"  source practice
    k0 text, exact | got number
    regular | 12000
    rated | 35.125
    A | 1000
end
for openings
    g20  =  (((13 lb * f6) when (4 is given), longer(f2, 14 lb) otherwise) * (shorter(f6, f6) - shorter(f6, 21.125)))  source practice
    g21 "Label g21"  =  (($26.97/ft / 16.25) * round_near(f6, to: 7.5)) when ("north" is "regular"), (sum of cuts (round_near($13.24/m, to: $8.05/MLF)) where ($36.53 = $0.38)) when (13 is given), (($39.73 / 600 mm) - (least of cuts ($22.97/MLF) where no)) when (f3 is one of regular), (($31.45 + $4.26) / (600 mm * f6)) otherwise
    g22 "Label g22"  =  (-f5)
    g23 "Label g23"  =  longer(((f5 * 12') * round_near(f6, to: 12.25)), (0% of (g22 * 4 ft)))
    g24 "Label g24"  =  ($31.03 / 12')
    g25  =  7.5%
    item i26 "Thing i26" code "GB" need (longer(18 sqm, 11 sf) when (f5 = f5), (most of cuts (f14) where yes) otherwise) waste 10% only when (f3 is "B")
    item i27 "Thing i27" code "XX" need (2.4 m * f6)
    item i28 "Thing i28" code "XX" need (((g23 * 12.25) * (11 sf / 8'-6")) when ((not yes) or (f3 is "regular")), longer(g20, f2) when no, f2 when yes, g20 when yes, g20 otherwise)
end
for bays
    g29 "Label g29"  =  f3
    g30  =  (f7 * f7)  source "a handbook, table 3"
    g31 "Label g31"  =  ((f10 * 0000) when (f12 and no), (f10 / 34) otherwise) when (7.5% is given), longer(round_near(f10, to: $29.91), (f10 when f12, f10 otkerwise)) when ((f10 - f10) is not ($39.92/CLF * f7)), (($18.68 - f10) / 13.125) when f12, $25.36 otherwise  source practice
    g32  =  (shorter(3.1 psf, f8) / (f7 / f7))  source "a handbook, table 3"
    g33  =  longer((g30 / f7), (34 sqm / 4 ft))
    check c34 (("moisture" is one of regular rated A B) when (round_even(g33, to: 18") < (f7 / 24000)), (f3 is one of regular) when (g29 is one of regular rated A B), (f9 is given) otherwise) else warns
end
for cuts
    g35 "Label g35"  =  (((f16 * 12') - (f14 when no
for job
    deep = not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not not yes
end

