book "Book 0"  edition "2"
rows rooms  from "Rooms"
    id text key
    f1 number  above 27000  may be blank
    f2 psf  heading "Heading 2" or "H2"
    f3 count  heading "Heading 3" or "H3"
end
for rooms
    g4  =  ((($34.82/CLF * 24") / round_near(1/2", to: 4 ft)) * ((30 sf * f1) / (38 sf / 8'-6")))  source practice
    check c5 (not (((18" is given) or (no and no)) or (24 lb is given))) else stops
        "It is {g4}."
    check c6 ((f3 * 0) <= round_up(8½" / 1/2")) else stops
end
for job
    j0_0 "Figure 0"  =  sum of lines (cost)
    j0_1 "Figure 1"  =  sum of lines (cost) where kind is material
    cutting kerf 3 mm keep 12"
end
      example "case 6"
    rooms  id "0"  f1 37.125  f2 6.2 psf  f3 2
    shows g4 = $28.84
    shows f2 = 0.8 psf
    shows f3 = 2
 end
