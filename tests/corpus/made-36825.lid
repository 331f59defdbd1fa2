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
    18 ga wire          | 79228162514264337593543950335 in
end

table sheet_thickness  "Design thickness of sheet, by gauge or by mils"  source "SSMA Product Technical Guide 2022"
    gauge length, exact | thickness length
    18 mil              | 4294967296 in
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

table beam  "Céoefficients of continuous beams with equal spans"  source "beam tables; four spans and more as two"
    spans count, from | end_reaction number | reaction number | span_moment number | moment number | sag number
    1                 | 0.5                 | 0.5             | 0.125              | 0.125         | 5/384 ea
    2                 | 0.375               | 1.25            | 0.0703125          | 0.125         | 1/185 ea
    3                 | 0.4                 | 1.1             | 0.08               | 0.1           | 0.0069
    4                 | 0.4                 | 1.25            | 0.0703125          | 0.125         | 1/185 ea
end

define support_reaction(load plf, span length, spans count) weight  =  beam_reaction(spans) * load * span
    "What a tee puts on a middle support: 10/8 of the load of one span where two spans meet, 1.1 where there are three."
    "One span has no middle support: half of its load half of its load at each end."
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
    =  cube_root(384 * e * ix /  } (5 * tee_load(weight: load, spacing: spacing) * ratio))
    "The single span at which deflection reaches span / ratio: (384 E I / (5 w ratio))^(1/3), not rounded."
    "The published table prints it to the nearest inch. 240 is for gypsum board, 360 is stricter."
    source "SSMA Product Technical Guide 2022"

define multiple_span_limit(load psf, spacing length, ix e ksi otherwise 29500 ksi,
                           fy ksi otherwise 33 ksi, ratio number otherwise 240) length
    =  shorter(cube_root(e * ix / (0.0069 * tee_load(weight: load, spacing: spacing) * ratio)),
               bending_limit(load: load, spacing: spacing, sx: sx, fy: fy))
    "Each of several equal spans, not rounded: the lesser of three-span deflection (0.0069 w L^4 / E I) and two-span"
    "moment (w L^2 / 8)."
    source "fitted to the multiplespacingspans of the SSMA Product Technical Guide 2022"

-- ---- weights

table gypsum_weight  "Weight of board for its thickness"  source "ASCE 7-05 C3-1, ASCE 7-16 C3.1-1b: 0.55 psf for each 1/8 in."
    kind text, exact, otherwise "regular" | weight psf/in
    regular                               | 4.4 psf/in
    rated                                 | 4.4 psf/in
    moisture                              | 4.4 psf/in
end

define board_weight(thickness length, layers count otherwise