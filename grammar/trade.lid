book "hardlid trade"  edition "1"

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

define grid_mains(across length, apart length otherwise 4') count  =  round_up(across / apart) - 1
    "Main tees of a hung grid: the first one spacing or less from the wall."
    source practice

define grid_wires(along length, every length otherwise 4') count  =  round_up(along / every)
    "Wires along one main tee of a hung grid: first and last half a spacing or less from the wall."
    source practice

-- ---- perimeter

define angle_length(along length) length  =  2 * along
    "Tabbed angle on the two walls that the tees bear on; also plain angle on the other two."
    source practice

define wall_screws(along length, every length otherwise 16") count  =  round_up(along / every) + 1
    "Screws that hold an angle to the studs."
    source practice

-- ---- openings

define trim_length(long length, wide length, many count otherwise 1) length  =  2 * (long + wide) * many
    "The inside perimeter of openings, flushed with rips of board or with plain angle."
    source practice

-- ---- board and finish, for each 1,000 sf of board

define board_screws(board area) count  =  round_up(board * (1000 ea / 1000 sf))
    "Screws for a board area."
    source "Estimating in Building Construction, ch. 16: 1,000 screws for 1,000 sf"

define joint_tape(board area) length  =  board * (380 ft / 1000 sf)
    "Joint tape for a board area."
    source "Estimating in Building Construction, ch. 16: 380 lf for 1,000 sf"

define joint_compound(board area) volume  =  board * (5 gal / 1000 sf)
    "Ready-mixed joint compound for a board area."
    source "Estimating in Building Construction, ch. 16: 5 gal for 1,000 sf"

-- ---- examples

example "tees along a wall"
    shows tee_count(along: 20', spacing: 24") = 9   tee_count(along: 20', spacing: 16") = 14
    shows tee_count(along: 16", spacing: 24") = 0   bays(run: 19', pitch: 24") = 10
end

example "the least that makes one more strongback"
    shows support_lines(run: 8'-6", limit: 8'-6") = 0    support_lines(run: 8'-6 1/16", limit: 8'-6") = 1
    shows support_lines(run: 17', limit: 8'-6") = 1      support_lines(run: 17'-0 1/16", limit: 8'-6") = 2
end

example "wires over a 14 by 20 ft room"
    shows hanger_count(along: 20', every: 4', first: 24", last: 24") = 5
    shows hanger_count(along: 20', every: 4') = 4
    shows hanger_count(along: 20', every: 4', first: 16", last: 16") = 6
    shows hanger_count(along: 20', every: wire_spacing(sdc: "D"), first: 24", last: 24") = 7
    shows hanger_count(along: 19', every: wire_spacing(sdc: "D"), first: 24", last: last_space(along: 19', spacing: 24")) = 7
    shows (grid_mains(across: 14') * grid_wires(along: 20')) = 15
end

example "1,200 sf of board"
    shows board_screws(1200 sf) = 1200   joint_tape(1200 sf) = 456'   joint_compound(1200 sf) = 6 gal
end
