book "hardlid trade"  edition "3"
use "hardlid loads"
use "hardlid board"

-- Functions and tables of the ceiling trade. Every figure names its source: a published one, or "practice" for common
-- practice in the trade without a source. A company's book may replace any of them.
-- Span figures are an estimating aid: the manufacturer's tested tables, local codes and licensed practice govern.

-- ---- tees and their spacing

table tested_span  "Clear span of a tee, wall to wall"  source practice
    spacing length, up to | board length, exact, otherwise 5/8" | layers count, exact, otherwise 1 | limit length
    16"                   | 5/8"                                | 1                                | 8'-6"
    24"                   | 5/8"                                | 1                                | 7'-6"
end

define bays(run length, pitch length) count  =  round_up(run / pitch)
    "Spaces along a wall when none is wider than the pitch."
    source practice

define tee_count(along length, spacing length) count  =  longer(bays(run: along, pitch: spacing) - 1, 0)
    "Tees along a wall: the first stands one spacing off the starting wall, the last space is at most one spacing."
    source practice

define last_space(along length, spacing length) length  =  along - tee_count(along: along, spacing: spacing) * spacing
    "From the last tee to the far wall."
    source practice

define span_check(run length, strongbacks count, limit length) yes/no  =  (run / (strongbacks + 1) <= limit)
    "Whether each part of a run is within the limit."
    source practice

define tee_length(run length, clearance length otherwise 1/8") length  =  run - clearance
    "A tee as it is cut: the clear run less the end clearance."
    source practice

define span_limit(tested length, load psf, spacing length, section text, ratio number otherwise 240) length
    =  tested when section is not given,
       shorter(tested, bending_limit(load: load, spacing: spacing, sx: section_sx_eff(section)),
               simple_span_limit(load: load, spacing: spacing, ix: section_ix_eff(section), ratio: ratio)) otherwise
    "What a tee may span, as a simple beam: the least of tested span, bending and deflection; the tested span alone where"
    "its section is not known."
    source practice

define governs(tested length, bending length, deflection length) text
    =  "tested span" when tested <= bending and tested <= deflection,
       "bending"     when bending <= deflection,
       "deflection"  otherwise
    "Which of three limits is the least; the tested span where two are the same."
    source "the least governs"

define tee_joints(run length, stock length) count  =  pieces(need: run, stock: stock) - 1
    "Scrap splices in one tee: each takes a 10 in. piece of tee and four screws, two on each side of the joint."
    source practice

define lapped_half(run length, past length otherwise 12") length  =  run / 2 + past
    "One of two tees that lie side by side over a strongback, each run past it."
    source practice

-- ---- support in the middle

define support_lines(run length, limit length) count  =  longer(round_up(run / limit) - 1, 0)
    "Strongbacks across a run so that each part of it is within the limit."
    source practice

table wire_spacing  "Hanger wires along a strongback"  source practice
    sdc text, exact | spacing length
    A               | 4'
    B               | 4'
    C               | 4'
    D               | 3'
    E               | 3'
    F               | 3'
end

define hanger_count(along length, every length, first length otherwise every, last length otherwise every) count
    =  longer(round_up((along - first - last) / every) + 1, 0)
    "Wires along a strongback. 'first' and 'last' are a free end's wire from its wall."
    "Leave one out where that end is bent down and fixed to a stud: its first wire may be one spacing away."
    source practice

define tie_count(tees count, run length, limit length) count  =  tees * support_lines(run: run, limit: limit)
    "Wires that tie each tee to structure where a strongback would stand: one wire a tee at mid-span."
    source practice

define closed_spacing(every length, weight psf, part length, capacity weight, step length otherwise 6") length
    =  every when wire_load(weight: weight, part: part, every: every) <= capacity,
       longer(round_down(every * capacity / wire_load(weight: weight, part: part, every: every), to: step),
              step) otherwise
    "Wire spacing closed, by whole half feet, until a wire carries no more than its connection may."
    source "a default of this book, not published"

define lap_pieces(run length, stock length, lap length otherwise 4") count
    =  1 when run <= stock, pieces(need: run - lap, stock: stock - lap) otherwise
    "Pieces of a strongback or channel line, each lapping the one before it; one splice less than pieces."
    source practice

-- ---- hung grid

define grid_mains(across length, apart length otherwise 4') count  =  round_up(across / apart) - 1
    "Main tees of a hung grid: the first one spacing or less from the wall."
    source practice

define grid_wires(along length, every length otherwise 4') count  =  round_up(along / every)
    "Wires along one main tee of a hung grid: first and last half a spacing or less from the wall."
    source practice

define grid_cross_tees(across length, along length, spacing length, apart length otherwise 4') count
    =  tee_count(along: along, spacing: spacing) * bays(run: across, pitch: apart)
    "Cross tees of a hung grid, the cut ones at both walls among them."
    source practice

-- ---- channel with furring

table channel_lap  "Lap of a channel splice, with two ties"  source "UFGS 09200A"
    channel length, exact, otherwise 1-1/2" | lap length
    1-1/2"                                  | 12"
    3/4"                                    |  8"
end

define channel_runners(across length, apart length otherwise 36", edge length otherwise 6") count
    =  hanger_count(along: across, every: apart, first: edge, last: edge)
    "Channel runners: the first and the last within 6 in. of their walls."
    source "UFGS 09200A: hangers 48 by 36 in. at most, or 42 by 42 in."

define channel_hangers(along length, every length otherwise 48", edge length otherwise 6") count
    =  hanger_count(along: along, every: every, first: edge, last: edge)
    "Hangers along one runner: the first and the last within 6 in. of its ends."
    source "UFGS 09200A: hangers 48 by 36 in. at most, or 42 by 42 in."

define furring_lines(along length, spacing length, edge length otherwise 2") count
    =  hanger_count(along: along, every: spacing, first: edge, last: edge)
    "Furring channels across the runners: the first and the last within 2 in. of parallel walls."
    source "UFGS 09200A"

define furring_load(span length, runners count, section text otherwise "087F125-18", ratio number otherwise 240,
                    e ksi otherwise 29500 ksi) plf
    =  shorter(8 * moment_capacity(section_sx_eff(section)) / span^2,
               e * section_ix_eff(section) / ((beam_sag(3) when runners > 2, beam_sag(1) otherwise) * ratio * span^3))
    "What a foot of furring channel may carry from runner to runner: by bending, w L^2 / 8, and by deflection of several"
    "spans, or of one between two runners."
    source "SSMA Product Technical Guide 2022"

define furring_length(run length, gap length otherwise 1/2") length  =  run - 2 * gap
    "A furring channel between the walls that it abuts, a gap at each."
    source "UFGS 09200A"

define crossing_ties(runners count, lines count, splices count otherwise 0) count  =  runners * lines + 2 * splices
    "Ties of furring to runners, one at each crossing, and two at each splice of a channel."
    source "UFGS 09200A"

-- ---- tight to the deck

table deck_gap  "How far below the deck a clip holds"  source practice
    clip text, exact, otherwise "deck" | reach length
    deck                               | 5-1/2"
end

define deck_mains(run length, limit length) count  =  support_lines(run: run, limit: limit)
    "Tabbed mains tight to the deck: each carries tees on both sides, and each side may be as long as a tee may span."
    source practice

define deck_tees(mains count, tees count) count  =  (mains + 1) * tees
    "Tees between the walls and the tabbed mains, one for each tee of the room and each part of its run."
    source practice

define deck_clips(lines count, along length, every length otherwise 4') count  =  lines * round_up(along / every)
    "Clips that hold tabbed mains to the deck: the first and the last half a spacing or less from the walls."
    source practice

define furring_fixings(run length, along length, spacing length, every length otherwise 24") count
    =  furring_lines(along: along, spacing: spacing) * (round_up(run / every) + 1)
    "Fixings of furring channel shot straight to the deck."
    source "24 in. o.c., from memory"

define fixings_saved(run length, along length, spacing length, clips count) count
    =  longer(furring_fixings(run: run, along: along, spacing: spacing) - clips, 0)
    "Fixings to the deck that tabbed mains save against furring channel shot to it."
    source practice

-- ---- perimeter

define angle_length(along length) length  =  2 * along
    "Tabbed angle on the two walls that the tees bear on; also plain angle on the other two."
    source practice

define usable_angle(stock length) length  =  round_down(stock, to: 8")
    "Tabbed angle that a piece of stock gives: whole tabs, 8 in. each, the last tab 4 in. from its end."
    source practice

define angle_pieces(along length, stock length) count  =  pieces(need: along + 4", stock: usable_angle(stock))
    "Pieces that stand on one bearing wall, the closing piece among them. The first is cut 4 in. short, at its first tab;"
    "those that follow carry the 8 in. pitch on, so each takes a whole number of tabs of the wall. 20 ft of 10 ft stock:"
    "116 in., 120 in., and 4 in. that close."
    source practice

define last_angle_piece(along length, stock length) length
    =  along when angle_pieces(along: along, stock: stock) = 1,
       along + 4" - (angle_pieces(along: along, stock: stock) - 1) * usable_angle(stock) otherwise
    "The length of the piece that reaches the far wall."
    source practice

define angle_stock(along length, stock length) count
    =  angle_pieces(along: along, stock: stock) - 1
           when angle_pieces(along: along, stock: stock) > 1 and last_angle_piece(along: along, stock: stock) <= 4",
       angle_pieces(along: along, stock: stock) otherwise
    "Stock that one bearing wall takes: a closing piece up to 4 in. is what was cut off the first piece; a longer one is"
    "cut from stock."
    source practice

define wall_screws(along length, every length otherwise 16") count  =  round_up(along / every) + 1
    "Screws that hold an angle to the studs."
    source practice

-- ---- openings

define cut_tees(across length, spacing length, face length otherwise 1-1/4") count
    =  round_up((across + face) / spacing) - 1
    "Tees that an opening cuts where it stands as well as it can: 'across' is its size along the tee wall."
    source practice

define header_length(across length, spacing length) length
    =  (cut_tees(across: across, spacing: spacing) + 1) * spacing
    "A header, from the tee on one side of an opening to the tee on the other."
    source practice

define trimmers(across length, spacing length, face length otherwise 1-1/4") count
    =  0 when header_length(across: across, spacing: spacing) = across + face, 2 otherwise
    "Sides of an opening that fall between tees."
    source practice

define opening_screws(cut count, trimmers count) count  =  2 * (2 + trimmers + cut)
    "Screws of an opening: one for each end of its two headers and of its trimmers, and for each end of a cut tee."
    source practice

define trim_length(long length, wide length, many count otherwise 1) length  =  2 * (long + wide) * many
    "The inside perimeter of openings, flushed with rips of board or with plain angle."
    source practice

-- ---- soffits

define soffit_board(run length, drop length, return length, free_ends count otherwise 0) area
    =  run * (drop + return) + free_ends * drop * return
    "Board of a soffit: its two faces, and an end for each end that is free."
    source practice

define soffit_supports(run length, return length, every length otherwise 4') count
    =  round_up(run / every) * round_up(return / every)
    "Supports to structure that a soffit of channel and furring needs, and one of tees does not."
    source practice

-- ---- examples, each worked by hand

example "tees along a wall"
    shows  tee_count(along: 20', spacing: 24") = 9   tee_count(along: 20', spacing: 16") = 14
    shows  tee_count(along: 16", spacing: 24") = 0   bays(run: 19', pitch: 24") = 10
    -- 10 spaces, 9 tees: 18 ft, and 1 ft to the far wall.
    shows  last_space(along: 19', spacing: 24") = 1'
end

example "tested spans"
    -- 20 in. is over 16 in., so the row of 24 in. serves. Half of 17 ft is 8'-6".
    shows  tested_span(spacing: 16") = 8'-6"   tested_span(spacing: 20") = 7'-6"
    shows  span_check(run: 17', strongbacks: 1, limit: 8'-6") = yes
           span_check(run: 17', strongbacks: 0, limit: 8'-6") = no
end

example "a span that deflection governs"
    -- 6 psf at 24 in. is 12 plf, 1 lb/in.: 384 x 29.5e6 x .0086 / (5 x 240) = 81,184 in.^3, and its root 43.3 in.; by bending
    -- 50.29 in., by the table 102 in.
    shows  (round_near(span_limit(tested: 8'-6", load: 6 psf, spacing: 24", section: "087F125-18"), to: 1")) = 3'-7"
end

example "the least that makes one more strongback"
    shows  support_lines(run: 8'-6", limit: 8'-6") = 0   support_lines(run: 8'-6 1/16", limit: 8'-6") = 1
    shows  support_lines(run: 17', limit: 8'-6") = 1     support_lines(run: 17'-0 1/16", limit: 8'-6") = 2
end

example "wires o.c. in SDC D"
    shows  wire_spacing(sdc: "D") = 3'   wire_spacing(sdc: "B") = 4'
end

example "wires over a 14 by 20 ft room"
    shows  hanger_count(along: 20', every: 4', first: 24", last: 24") = 5
    shows  hanger_count(along: 20', every: 4') = 4
    shows  hanger_count(along: 20', every: 4', first: 16", last: 16") = 6
    shows  hanger_count(along: 20', every: wire_spacing(sdc: "D"), first: 24", last: 24") = 7
    shows  hanger_count(along: 19', every: wire_spacing(sdc: "D"), first: 24",
                        last: last_space(along: 19', spacing: 24")) = 7
    shows  (grid_mains(across: 14') * grid_wires(along: 20')) = 15
end

example "which limit governs"
    shows  governs(tested: 8', bending: 8', deflection: 8') = "tested span"
    shows  governs(tested: 8', bending: 7', deflection: 7') = bending
           governs(tested: 8', bending: 9', deflection: 7') = deflection
end

example "tees of 14 ft from 12 ft stock"
    -- One joint; or, over a strongback, two pieces of 7 ft and 12 in. each.
    shows  tee_joints(run: 14', stock: 12') = 1   tee_joints(run: 12', stock: 12') = 0   lapped_half(14') = 8'
    shows  tee_length(14') = 13'-11 7/8"
end

example "angle on two walls of 20 ft"
    -- 240 / 16 = 15 spaces, 16 screws a wall. 125 in. holds 15 tabs of 8 in.
    shows  angle_length(20') = 40'   wall_screws(20') = 16   usable_angle(125") = 10'
end

example "pieces of tabbed angle"
    -- 10 ft stock is 15 tabs, 120 in. 20 ft: 116 + 120 + 4 in., the 4 in. from the first piece's offcut: two of stock.
    -- 20'-1" ends with 5 in., which no offcut closes. 9'-8" is 116 in.: the first piece alone. 125 in. of stock is
    -- worth 120 in. 12 ft stock is 18 tabs: 140 in., and 100 in. more.
    shows  angle_pieces(along: 20', stock: 10') = 3           angle_stock(along: 20', stock: 10') = 2
    shows  angle_pieces(along: 20'-1", stock: 10') = 3        angle_stock(along: 20'-1", stock: 10') = 3
    shows  last_angle_piece(along: 20', stock: 10') = 4"      last_angle_piece(along: 20'-1", stock: 10') = 5"
    shows  angle_pieces(along: 9'-8", stock: 10') = 1         angle_pieces(along: 9'-8 1/16", stock: 10') = 2
    shows  angle_pieces(along: 19'-8", stock: 10') = 2        angle_pieces(along: 20', stock: 125") = 3
    shows  angle_pieces(along: 20', stock: 12') = 2           angle_stock(along: 20', stock: 12') = 2
    shows  last_angle_piece(along: 20', stock: 12') = 8'-4"   last_angle_piece(along: 5', stock: 10') = 5'
end

example "wires closed up under 8 ft 6 parts"
    -- 116.875 lb at 4 ft o.c. is over 100 lb; 4 ft x 100 / 116.875 = 3.42 ft, down to half feet 3 ft: 87.7 lb.
    shows  closed_spacing(every: 4', weight: 2.75 psf, part: 8'-6", capacity: 100 lb) = 3'
    shows  closed_spacing(every: 4', weight: 2.75 psf, part: 7', capacity: 100 lb) = 4'
end

example "a strongback of 16 ft stock"
    -- 20 ft: 19'-8" of laps taken off, by 15'-8": two pieces.
    shows  lap_pieces(run: 20', stock: 16') = 2   lap_pieces(run: 16', stock: 16') = 1
           lap_pieces(run: 32', stock: 16') = 3
end

example "ties at mid-span in place of a strongback, 14 by 20 ft"
    shows  tie_count(tees: 9, run: 14', limit: 8'-6") = 9   tee_count(along: 20', spacing: 24") = 9
end

example "hung grid, 14 by 20 ft, cross tees 24 in. o.c."
    -- 14 ft is 4 bays of mains 4 ft o.c.; 20 ft takes 9 lines of cross tees: 36. A main carries 4 ft of 2.75 psf, 11 plf.
    shows  grid_cross_tees(across: 14', along: 20', spacing: 24") = 36   grid_mains(across: 14') = 3
           grid_wires(along: 20') = 5
    shows  grid_class(tee_load(weight: 2.75 psf, spacing: 4')) = intermediate
end

example "channel with furring, 24 by 36 ft, runners along the 36 ft"
    -- 36 in. o.c.: 276 in. between the first and the last is 7.7, 8 spaces, 9 runners; 48 in.: 420 in. is 8.75, 9 spaces,
    -- 10 hangers: 90. Furring 16 in. o.c.: 432 - 4 = 428 in. is 26.75, 27 spaces, 28 lines, each 23'-11" long.
    -- 16 ft channel lapped 12 in.: 35 ft by 15 ft, 3 pieces, 2 splices a runner: 9 x 28 + 2 x 18 = 288 ties.
    shows  channel_runners(24') = 9        channel_hangers(36') = 10   furring_lines(along: 36', spacing: 16") = 28
    shows  furring_length(24') = 23'-11"   lap_pieces(run: 36', stock: 16', lap: channel_lap(channel: 1-1/2")) = 3
    shows  channel_lap(channel: 3/4") = 8"
    shows  crossing_ties(runners: 9, lines: 28, splices: 18) = 288
end

example "what furring carries over 36 in."
    -- Bending: 8 x 316.17 / 1,296 = 1.9517 lb/in., 23.4 plf. Deflection over three runners or more: 253,700 / (.0069 x 240 x
    -- 46,656) = 3.28; between two: 384 x 253,700 / (5 x 240 x 46,656) = 1.7400 lb/in., 20.9 plf.
    shows  (round_near(furring_load(span: 36", runners: 9), to: 0.1 plf)) = 23.4 plf
    shows  (round_near(furring_load(span: 36", runners: 2), to: 0.1 plf)) = 20.9 plf
end

example "tight to the deck, 12 by 16 ft, tees 16 in. o.c."
    -- One tabbed main, and 11 tees on each side of it. Clips at 2, 6, 10, 14 ft: 4. Furring shot to the deck:
    -- 192 - 4 = 188 in. is 11.75, 12 spaces, 13 lines of 12 ft with 7 fixings: 91, so 87 are saved.
    shows  deck_gap(clip: "deck") = 5-1/2"
    shows  deck_mains(run: 12', limit: 8'-6") = 1   deck_tees(mains: 1, tees: tee_count(along: 16', spacing: 16")) = 22
    shows  deck_clips(lines: 1, along: 16') = 4     furring_fixings(run: 12', along: 16', spacing: 16") = 91
    shows  fixings_saved(run: 12', along: 16', spacing: 16", clips: 4) = 87
end

example "openings under tees 24 in. o.c."
    -- Between two tees 24 in. o.c. there are 22-3/4 in.: a 24 in. light cuts one tee, its headers are 4 ft, and neither
    -- side lies on a tee: 2 x (2 + 2 + 1) = 10 screws. A 12 in. grille cuts none. 4 ft across cuts two.
    shows  cut_tees(across: 24", spacing: 24") = 1   header_length(across: 24", spacing: 24") = 4'
           trimmers(across: 24", spacing: 24") = 2
    shows  opening_screws(cut: 1, trimmers: 2) = 10   cut_tees(across: 12", spacing: 24") = 0
           cut_tees(across: 4', spacing: 24") = 2
    shows  trim_length(long: 4', wide: 2', many: 3) = 36'
    shows  cut_tees(across: 22-3/4", spacing: 24") = 0   trimmers(across: 22-3/4", spacing: 24") = 0
end

example "a soffit 16'-8\" long, 14 in. down and 2 ft back, one end free"
    -- 200 x 38 + 14 x 24 = 7,936 sq in. = 55 1/9 sf. By channel: 200 / 48 is 4.2, so 5 supports.
    shows  (soffit_board(run: 16'-8", drop: 14", return: 2', free_ends: 1) * 9) = 496 sf
    shows  soffit_supports(run: 16'-8", return: 2') = 5   soffit_supports(run: 16'-8", return: 5') = 10
end
