book "hardlid loads"  edition "1"

-- What steel, wire and board weigh, carry and reach. Every figure names its source: a published one, one written from
-- memory and marked so, or "practice" for common practice in the trade without a source.
-- An estimating aid: the manufacturer's tested tables, local codes and licensed practice govern.

-- ---- gauges: a wire gauge and a sheet gauge are two things, and a number alone is refused

table wire_diameter  "Diameter of steel wire"  source "steel wire gauge; codes print 12 gauge as 0.106 in."
    gauge length, exact | diameter length
    8 ga wire           | 0.1620 in
    9 ga wire           | 0.1483 in
    10 ga wire          | 0.1350 in
    12 ga wire          | 0.1055 in
    16 ga wire          | 0.0625 in
    18 ga wire          | 0.0475 in
end

table sheet_thickness  "Design thickness of sheet, by gauge or by mils"  source "SSMA Product Technical Guide 2022"
    gauge length, exact | thickness length
    18 mil              | 0.0188 in
    25 ga sheet         | 0.0188 in
    30 mil              | 0.0312 in
    33 mil              | 0.0346 in
    43 mil              | 0.0451 in
    18 ga sheet         | 0.0451 in
    54 mil              | 0.0566 in
    16 ga sheet         | 0.0566 in
    97 mil              | 0.1017 in
    12 ga sheet         | 0.1017 in
end

define least_thickness(design length) length  =  95% of design
    "The thinnest sheet that may be delivered for a design thickness."
    source "SSMA Product Technical Guide 2022"

-- ---- sections: a company adds the sections that it buys, as their makers publish them

table section  "Section properties"  source "SSMA Product Technical Guide 2022, furring channel, 33 ksi"
    name text, exact | thickness length | area in^2  | ix in^4    | ix_eff in^4 | sx_eff in^3
    "087F125-18"     | 0.0188 in        | 0.070 in^2 | 0.009 in^4 | 0.0086 in^4 | 0.0160 in^3
    "087F125-30"     | 0.0312 in        | 0.115 in^2 | 0.014 in^4 | 0.0143 in^4 | 0.0307 in^3
    "087F125-33"     | 0.0346 in        | 0.127 in^2 | 0.016 in^4 | 0.0157 in^4 | 0.0337 in^3
    "087F125-43"     | 0.0451 in        | 0.162 in^2 | 0.020 in^4 | 0.0196 in^4 | 0.0420 in^3
    "150F125-18"     | 0.0188 in        | 0.094 in^2 | 0.031 in^4 | 0.0299 in^4 | 0.0344 in^3
    "150F125-30"     | 0.0312 in        | 0.154 in^2 | 0.050 in^4 | 0.0503 in^4 | 0.0639 in^3
end

define section_weight(area in^2) plf  =  area * 3.4 plf/in^2
    "What a foot of a steel section weighs."
    source "SSMA Product Technical Guide 2022: 3.4 lb a foot for each square inch"

define moment_capacity(sx in^3, fy ksi otherwise 33 ksi) inlb  =  fy * sx / 1.67
    "The bending moment that a section may carry."
    source "SSMA Product Technical Guide 2022: Ma = Fy Sx / 1.67"

-- ---- beams under a uniform load

table beam  "Coefficients of continuous beams with equal spans"  source "beam tables; four spans and more as two"
    spans count, from | end_reaction number | reaction number | span_moment number | moment number | sag number
    1                 | 0.5                 | 0.5             | 0.125              | 0.125         | 5/384 ea
    2                 | 0.375               | 1.25            | 0.0703125          | 0.125         | 1/185 ea
    3                 | 0.4                 | 1.1             | 0.08               | 0.1           | 0.0069
    4                 | 0.4                 | 1.25            | 0.0703125          | 0.125         | 1/185 ea
end

define support_reaction(load plf, span length, spans count) weight  =  beam_reaction(spans) * load * span
    "What a tee puts on a middle support: 10/8 of the load of one span where two spans meet, 1.1 where there are three."
    "One span has no middle support: half of its load at each end."
    source "beam tables"

define greatest_moment(load plf, span length, spans count) inlb  =  beam_moment(spans) * load * span^2
    "The greatest bending moment: in the middle of one span, over a support where there are more."
    source "beam tables"

define greatest_sag(load plf, span length, spans count, ix in^4, e ksi otherwise 29500 ksi) length
    =  beam_sag(spans) * load * span^4 / (e * ix)
    "The greatest deflection."
    source "beam tables"

-- ---- how far a section reaches

define tee_load(weight psf, spacing length) plf  =  weight * spacing
    "What a foot of one tee carries."
    source "load by area times spacing"

define bending_limit(load psf, spacing length, sx in^3, fy ksi otherwise 33 ksi) length
    =  square_root(8 * moment_capacity(sx: sx, fy: fy) / tee_load(weight: load, spacing: spacing))
    "The span at which bending reaches what the section may carry: w L^2 / 8, for one span and for two."
    source "SSMA Product Technical Guide 2022"

define simple_span_limit(load psf, spacing length, ix in^4, e ksi otherwise 29500 ksi,
                         ratio number otherwise 240) length
    =  cube_root(384 * e * ix / (5 * tee_load(weight: load, spacing: spacing) * ratio))
    "The single span at which deflection reaches span / ratio: (384 E I / (5 w ratio))^(1/3), not rounded."
    "The published table prints it to the nearest inch. 240 is for gypsum board, 360 is stricter."
    source "SSMA Product Technical Guide 2022"

define multiple_span_limit(load psf, spacing length, ix in^4, sx in^3, e ksi otherwise 29500 ksi,
                           fy ksi otherwise 33 ksi, ratio number otherwise 240) length
    =  shorter(cube_root(e * ix / (0.0069 * tee_load(weight: load, spacing: spacing) * ratio)),
               bending_limit(load: load, spacing: spacing, sx: sx, fy: fy))
    "Each of several equal spans, not rounded: the lesser of three-span deflection (0.0069 w L^4 / E I) and two-span"
    "moment (w L^2 / 8)."
    source "fitted to the multiple spans of the SSMA Product Technical Guide 2022"

-- ---- weights

table gypsum_weight  "Weight of board for its thickness"  source "ASCE 7-05 C3-1, ASCE 7-16 C3.1-1b: 0.55 psf for each 1/8 in."
    kind text, exact, otherwise "regular" | weight psf/in
    regular                               | 4.4 psf/in
    rated                                 | 4.4 psf/in
    moisture                              | 4.4 psf/in
end

define board_weight(thickness length, layers count otherwise 1, kind text otherwise "regular") psf
    =  thickness * layers * gypsum_weight(kind: kind)
    "What the layers of board weigh."
    source "ASCE 7-05 C3-1, ASCE 7-16 C3.1-1b: 0.55 psf for each 1/8 in."

table insulation_limit  "Insulation that may lie on the board unsupported"  source "insulation handbook"
    board length, exact | spacing length, up to | limit psf
    1/2"                | 16"                   | 2.2 psf
    1/2"                | 24"                   | 1.3 psf
    5/8"                | 16"                   | 2.2 psf
    5/8"                | 24"                   | 2.2 psf
end

table dead_load_limit  "Dead load of a hung ceiling with gypsum panels"  source "ASTM C1858-17a"
    ceiling text, exact | limit psf
    gypsum              | 10 psf
end

-- ---- wires and what they hang from

table hanger_capacity  "What one hanger wire's connection carries"  source "CBC Standard 25-2 (1998), as quoted: 100 lb or more"
    deck text, exact, otherwise "concrete" | limit weight
    concrete                               | 100 lb
    metal                                  | 100 lb
    wood                                   | 100 lb
    steel                                  | 100 lb
end

table wire_area  "Ceiling for each hanger wire"  source "from memory; a default, check your code"
    gauge length, exact | area area
    8 ga wire           | 16 sf
    9 ga wire           | 12.5 sf
end

define wire_load(weight psf, part length, every length) weight
    =  support_reaction(load: tee_load(weight: weight, spacing: every), span: part, spans: 2)
    "What one wire of a strongback carries: 10/8 of the ceiling between it and its neighbors, whatever the number of"
    "parts, since a tee may be spliced over a strongback."
    source "beam tables: a continuous tee puts 10/8 on a middle support"

define splayed(drop length, off number otherwise 1 / 6) length  =  drop * square_root(1 + off^2)
    "The length of a wire that hangs off plumb, at most 1 in 6."
    source "CBC Standard 25-2 (1998), as quoted"

-- ---- grids

define grid_class(load plf) text
    =  "light"        when load <= 5 plf,
       "intermediate" when load <= 12 plf,
       "heavy"        when load <= 16 plf,
       "none"         otherwise
    "The class of a main runner that carries this over 4 ft within span / 360."
    source "ASTM C635-17 4.1; the figures 5, 12 and 16 lb a foot from memory"

-- ---- examples, each worked by hand

example "gauges"
    shows  wire_diameter(12 ga wire) = 0.1055 in   sheet_thickness(25 ga sheet) = 0.0188 in
           sheet_thickness(33 mil) = 0.0346 in
    -- 95% of 0.0451 in.
    shows  least_thickness(43 mil) = 0.04085 in   least_thickness(sheet_thickness(43 mil)) = 0.042845 in
end

example "a section"
    -- 3.4 x 0.25 = 0.85 lb a foot. 33,000 x 0.0167 / 1.67 = 330 in.-lb.
    shows  section_ix_eff("087F125-18") = 0.0086 in^4   section_area("087F125-18") = 0.070 in^2
    shows  section_weight(0.25 in^2) = 0.85 plf         moment_capacity(sx: 0.0167 in^3) = 330 inlb
end

example "12 lb a foot over 8 ft"
    -- One span: 12 x 64 / 8 = 96 ft-lb; three: a tenth of 12 x 64. From four spans on a beam counts as two.
    -- 1 lb/in. over 96 in.: 5 x 96^4 / 384 = 1,105,920, and 10,000,000 x 0.0384 = 384,000: 2.88 in.
    shows  greatest_moment(load: 12 plf, span: 8', spans: 1) = 96 ftlb
           greatest_moment(load: 12 plf, span: 8', spans: 3) = 76.8 ftlb
    shows  greatest_sag(load: 12 plf, span: 8', spans: 1, ix: 0.0384 in^4, e: 10000 ksi) = 2.88 in
    shows  beam_reaction(2) = 1.25   beam_reaction(7) = 1.25   beam_end_reaction(1) = 0.5
end

example "a span by bending alone"
    -- 3 psf at 24 in. is 6 plf, 0.5 lb/in. 40,000 x 0.0167 / 1.67 = 400 in.-lb: the root of 8 x 400 / 0.5 = 6,400 is 80 in.
    shows  bending_limit(load: 3 psf, spacing: 24", sx: 0.0167 in^3, fy: 40 ksi) = 6'-8"
end

example "what may lie on board, and what a wire holds"
    -- 19.2 in. is over 16 in., so the row of 24 in. serves.
    shows  insulation_limit(board: 1/2", spacing: 19.2") = 1.3 psf   dead_load_limit("gypsum") = 10 psf
    shows  gypsum_weight("rated") = 4.4 psf/in   hanger_capacity(deck: "steel") = 100 lb
           wire_area(9 ga wire) = 12.5 sf
end

example "a wire off plumb"
    -- 3, 4, 5: 4 ft down and 3 ft aside. A code allows no more than 1 in 6.
    shows  splayed(drop: 4', off: 0.75) = 5'
end

example "board"
    -- 5 x 0.55 = 2.75 psf; two layers 5.50; 1/2 in. is 4 x 0.55 = 2.20.
    shows  board_weight(thickness: 5/8", layers: 1) = 2.75 psf   board_weight(thickness: 5/8", layers: 2) = 5.5 psf
    shows  board_weight(thickness: 1/2") = 2.2 psf
end

example "a tee at 16 in. o.c. under one layer of 5/8 in."
    -- 2.75 psf x 1 1/3 ft = 3 2/3 plf; over two spans of 8'-6" the middle support takes 1.25 x 3 2/3 x 8.5 = 38.958333 lb.
    shows  (tee_load(weight: 2.75 psf, spacing: 16") * 3) = 11 plf
    shows  (support_reaction(load: 3 plf, span: 8', spans: 2)) = 30 lb
           support_reaction(load: 3 plf, span: 8', spans: 1) = 12 lb
    shows  (support_reaction(load: 3 plf, span: 10', spans: 3)) = 33 lb
end

example "one wire of a strongback"
    -- 1.25 x 8.5 x 4 x 2.75 = 116.875 lb
    shows  wire_load(weight: 2.75 psf, part: 8'-6", every: 4') = 116.875 lb
end

example "single span of the lightest furring channel, 4 psf, 12 in. o.c."
    -- w is 4 plf, 1/3 lb/in.: 384 x 29.5e6 x .0086 / (5 x 1/3 x 240) = 243,552 in.^3, and its root 62.45 in.: 5'-2".
    shows  (round_near(simple_span_limit(load: 4 psf, spacing: 12", ix: section_ix_eff("087F125-18")), to: 1")) = 5'-2"
end

example "multiple spans of it, 6 psf, 24 in. o.c.: bending governs"
    -- w is 12 plf, 1 lb/in.: Ma = 33,000 x .016 / 1.67 = 316.2 in-lb, and the root of 8 x 316.2 is 50.29 in.: 4'-2".
    -- By deflection it would be the cube root of 29.5e6 x .0086 / (.0069 x 240) = 153,200 in.^3: 53.5 in.
    shows  (round_near(
                multiple_span_limit(load: 6 psf, spacing: 24", ix: section_ix_eff("087F125-18"),
                                    sx: section_sx_eff("087F125-18")),
                to: 1")) = 4'-2"
end

example "classes of main runners"
    shows  grid_class(5 plf) = light   grid_class(12 plf) = intermediate   grid_class(16 plf) = heavy
           grid_class(16.1 plf) = none
end
