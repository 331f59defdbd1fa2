book "living"  edition "1"

-- Every way of working that a worksheet can follow, on rooms and what belongs to them.

table first_from  "The last row at or below"  source practice
    at length, from | got length
    0'              | 1'
    5'-6"           | 2'
    11'             | 3'-4"
    30'             | 5'
end

table next_up  "The next row at or above"  source practice
    at length, up to | got weight
    6'               | 1.5 lb
    12'              | 2.25 lb
    100'             | 7 lb
end

table on_line  "On a straight line"  source practice
    at number, between | got number
    0                  | 10
    4                  | 20
    10                 | 5
end

table by_three  "Grade, layers, then the next length"  source practice
    grade text, exact | layers count, exact | at length, up to | got $/ft
    a                 | 1                   | 10'              | $1.25/ft
    a                 | 1                   | 100'             | $1.5/ft
    a                 | 2                   | 20'              | $2.75/ft
    a                 | 2                   | 100'             | $3/ft
    b                 | 1                   | 100'             | $0.0049/ft
    b                 | 2                   | 9'               | $0.333/ft
    b                 | 2                   | 17'              | $0.5/ft
    b                 | 2                   | 100'             | $0.75/ft
    c                 | 1                   | 100'             | $4/ft
    c                 | 2                   | 100'             | $6/ft
end

table by_grade  "Code of a grade"  source practice
    grade text, exact | code text
    a                 | "BA"
    b                 | "BB"
    c                 | "BC"
end

rows job  from "Job"
    spare  percent  heading "Spare"   otherwise 10%
    pitch  length   heading "Pitch"   otherwise 16"
    round  yes/no   heading "Round"   otherwise yes
    least  length   heading "Least"   may be blank
    ways   text     heading "Ways"    one of plain fancy  otherwise plain
end

for job
    double  =  2 * pitch
    least_of "Least of a run"  =  least when least is given, double otherwise
end

rows rooms  from "Rooms"
    id      text    heading "Room"         key
    length  length  heading "Length (ft)"
    width   length  heading "Width (in)"
    hang    length  heading "Drop"         otherwise 18"
    grade   text    heading "Grade"        one of a b c  otherwise b
    wet     yes/no  heading "Wet"          otherwise no
    layers  count   heading "Layers"       from 1 to 2
    extra   number  heading "Extra"        may be blank
    share   percent heading "Share (%)"    otherwise 25%
end

rows openings  from "Openings"  belong to rooms by "Room"
    long   length  heading "Long (in)"
    wide   length  heading "Wide (in)"
    many   count   heading "Many"   otherwise 1
    heavy  yes/no  heading "Heavy"  otherwise no
    kind   text    heading "Kind"   may be blank
end

for openings
    hole     "Hole"          =  long * wide * many
    edge     "Edge"          =  2 * (long + wide)
    big      "Big"           =  hole > 10 sf and not heavy
    reach    "Reach"         =  long + hang when grade is a, wide + length / 4 otherwise
    named    "Named"         =  kind when kind is given, grade otherwise
    item trim  "Trim"        code "TR"  need edge * many
end

for rooms
    run      "Run"           =  shorter(length, width)
    along    "Along"         =  longer(length, width)
    gross    "Gross"         =  length * width
    holes    "Holes"         =  sum of openings (hole)
    heavies  "Heavy holes"   =  sum of openings (hole) where heavy
    lights   "Lights"        =  count of openings where not heavy
    all_of   "Openings"      =  count of openings
    any_big  "Any big"       =  any of openings (big)
    all_big  "All big"       =  all of openings (big)
    widest   "Widest"        =  most of openings (wide)
    narrow   "Narrowest"     =  least of openings (wide)
    reaches  "Reaches"       =  sum of openings (reach)
    net      "Net"           =  gross - holes
    tees     "Tees"          =  longer(round_up(along / pitch) - 1, 0)
    fits     "Whole pitches"  =  round_down(run / pitch)
    near     "To the inch"   =  round_near(along - fits * pitch, to: 1")
    eighth   "To the eighth" =  round_up(run / 3, to: 1/8")
    from_    "From"          =  first_from(along)
    up       "Up to"         =  next_up(run)
    line     "On line"       =  on_line(longer(shorter(layers * 2.5 + tees / 10, 10), 0))
    rate     "Rate"          =  by_three(grade: grade, layers: layers, at: along)
    code     "Code"          =  by_grade(grade)
    word     "Word"          =  "wet and wide" when wet and width > 10', "wet" when wet, "extra" when extra is given, "plain" otherwise
    more     "More"          =  extra * 3 - 1 when extra is given, -2 otherwise
    part     "Part"          =  share of gross
    side     "Side of a square"  =  square_root(gross)
    cube     "Side of a cube"    =  cube_root(gross * hang)
    same     "As long as wide"   =  length = width
    steps    "Steps"         =  (spare of gross) / 1 sf
    doubles  "Doubles"       =  round_up(run / double) when round, run / double otherwise
    held     "Held"          =  longer(run, least_of)
    floor    "Floor"         =  shorter(along, least) when least is given, along otherwise
    fancy    "Fancy"         =  "as fancy as can be" when ways is fancy and round, "plain" otherwise
    cents    "Cents"         =  round_near(rate * along * layers, to: $0.01)
    half     "Half of it"    =  -cents / 2
    item tee    "Tee"    code "T"   cut tees + 1, each run
    item board  "Board"  code "B"   need gross * layers  waste spare
    item drop   "Drop"   code "D"   need hang
    labor hang_board  "Hang board"  code "L"  need gross * layers
end

for job
    material  "Material"  =  sum of lines (cost) where kind is material
    labor     "Labor"     =  sum of lines (cost) where kind is labor
    over      "Overhead"  =  round_near(7% of (material + labor), to: $0.01)
    total     "Total"     =  material + labor + over
end
