
for rooms
    item tee    "Span tee"       code "ST"     cut tees, each run   spliced least 5" scrap 10"
    item wire   "Hanger wire"    code "HW"     need wire
    item board  "Gypsum board"   code "GB"     need board_area
    labor hang  "Hang board"     code "L-BRD"  need board_area
end

for job
    material  "Material"  =  sum of lines (cost) where kind is material
    labor     "Labor"     =  sum of lines (cost) where kind is labor
    total     "Total"     =  material + labor
end
