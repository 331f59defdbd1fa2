rows job  from "Job"
    project       text     heading "Project" or "Job"                                                    may be blank
    location      text     heading "Location" or "Address"                                               may be blank
    bid_to        text     heading "Bid to" or "Customer"                                                may be blank
    drawings      text     heading "Drawings" or "Drawings dated"                                        may be blank
    addenda       text     heading "Addenda"                                                             may be blank
    price_stands  text     heading "Price stands" or "Price valid"                                       may be blank
    includes      text     heading "Includes" or "Inclusions"                                            may be blank
    excludes      text     heading "Excludes" or "Exclusions"                                            may be blank
    lifts         text     heading "Lifts and scaffold" or "Lifts" or "Scaffold"                         may be blank
    stocking      text     heading "Stocking"                                                            may be blank
    clean_up      text     heading "Clean-up" or "Cleaning up"                                           may be blank
    flatness      text     heading "Flatness"  otherwise "Framing within 1/8 in. of plane"
        source "GA: framing within 1/8 in. of plane"
    tax           percent  heading "Sales tax" or "Tax"                                 from 0% to 100%  otherwise 0%
    tax_on        text     heading "Tax on"  one of material material_and_freight all  otherwise material
    freight       percent  heading "Freight"                                            from 0% to 100%  otherwise 0%
    escalation    percent  heading "Escalation a month"                                 from 0% to 100%  otherwise 0%
    months        number   heading "Months to the middle of the work"                   from 0 to 240    otherwise 0
    contingency   percent  heading "Contingency"                                        from 0% to 100%  otherwise 0%
    overhead      percent  heading "Overhead"                                           from 0% to 100%  otherwise 0%
    profit        percent  heading "Profit" or "Profit (markup)" or "Profit as markup"  from 0% to 500%  otherwise 0%
    margin        percent  heading "Margin" or "Profit (margin)" or "Profit as margin"  at least 0%  below 100%
                           may be blank
    bond          percent  heading "Bond"                                               from 0% to 100%  otherwise 0%
    price_tax     percent  heading "Tax in the price"  at least 0%  below 100%  otherwise 0%
        "A tax that is a part of the price itself."
    -- the house's own ways; a blank section is said in the checks, never guessed
    tee_section         text     heading "Tee section"                             may be blank
    strongback_section  text     heading "Strongback section"                      may be blank
    deflection_ratio    number   heading "Deflection ratio"       from 120 to 720  otherwise 240
    close_wires         yes/no   heading "Close wire spacing"                      otherwise no
    tab_stock           length   heading "Tabbed angle stock"     at least 1'      stock of "TA"  otherwise 10'
    angle_stock         length   heading "Plain angle stock"      at least 1'      stock of "PA"  otherwise 10'
    strongback_stock    length   heading "Strongback stock"       at least 4'      stock of "SB"  otherwise 16'
    channel_stock       length   heading "Channel stock"          at least 4'      stock of "CR"  otherwise 16'
    furring_stock       length   heading "Furring stock"          at least 4'      stock of "FC"  otherwise 12'
    least_angle         length   heading "Least piece of angle"   at least 0"      otherwise 1/2"
        "Plain angle may stop short of a wall's end by less; no such sliver is cut, and no face so short takes angle."
        source practice
    end_clearance       length   heading "End clearance"          at least 0"      otherwise 1/8"
        "What a tee is cut shorter than its clear run, both ends together."
        source practice
    furring_section     text     heading "Furring section"                         otherwise "087F125-18"
    saw_kerf            length   heading "Saw cut"                at least 0"      otherwise 0"
        "What a saw takes with each cut; nothing where tees and angle are cut with snips."
    least_offcut        length   heading "Least offcut"           at least 0"      otherwise 12"
        "A shorter offcut is scrap."
        source practice
    first_supplier      text     heading "Preferred supplier"                      may be blank
    only_supplier       text     heading "Buy only from"                           may be blank
    charge_bought       yes/no   heading "Charge what is bought"                   otherwise no
    screws_by_spacing   yes/no   heading "Screws by spacing"                       otherwise no
    buy_headers         yes/no   heading "Buy headers"                             otherwise no
    tee_stock           length   heading "Tee stock"              at least 4'      stock of "ST"  may be blank
        "A longer tee is spliced: over a strongback that it reaches past, else with a scrap. Blank, it is the price book's longest."
    sheet_lengths       text     heading "Sheet lengths"                           otherwise "8', 9', 10', 12', 14'"
    sheet_width         length   heading "Sheet width"            at least 2'      otherwise 4'
    board_waste         percent  heading "Board waste"            from 0% to 100%  otherwise 5%
        source "Estimating in Building Construction, example 16-3: 5%"
    heavy_over          weight   heading "Heavy fixtures over"    above 0          otherwise 56 lb
        source "ASTM E580, from memory"
end
