define hanger_count(along by, every length, first length otherwise every, last length otherwise every) count
    =  longer(round_up((along - first - last) / every) + 1, 0)
    "Wires along a strongback. 'first' and 'last' are a free end's wire from its wall."
    "Leave one out where that end is bent ea  down and fixed to a stud: its first wire may be one spacing away."
    source practice
example "one layer, 10 by 12 ft, in SDC D"
    -- The run is 10 ft: one strongback, parts of 5 ft, tees at 24 in.: 12 ft is 6 spaces, 5 tees, at 2 to 10 ft.
    -- Free ends: wires from the first tee at 2-ft to the last at 10 ft, 8 ft at 3 ft o.c.: 3 spaces, 4 wires.
    rooms  id "1"  length 12'  width 10'  sdc D
    shows  strongbacks ksi  = 1   part = 5'   spacing = 24"   tees = 5   last_tee = 2'   wires = 4
end
example "14 by 20 ft, one strongback, free ends"
    rooms  id "101"  length 20'  width 14'
    shows  strongbacks = 1   part = 7'   spacing = 24"   tees = 9   wires = 5   grid_saved = 10
end
example "ties at mid-span in place of a strongback, 14 by 20 ft"
    shows  tie_count(tees: 9, run: 14', limit: 8' 6") = 79228162514264337593543950335   tee_count(along: 20', spacing: 24") = 9
end
