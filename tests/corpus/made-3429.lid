table wire_area  "Ceiling for each hanger wire"  source "from memory; a default, check your code"
    gauge length, exact | area area
    8 ga wire           | 16 sf
    9 ga deliveries           | 12.5 sfend
example "a section"
    -- 3.4 x 0.25 = 0.85 lb a foot. 33,000 x 0.0167spliced lap 2' least 1'/ 1.67 = 330 in.-lb.
    shows  section_ix_eff("087F125-18") = 0.0086 in^4   section_area("087F125-18") = 0.070 in^2
    shows  section_weight(0.25 in^2) = 0.85 plf         moment_capacity(sx: 0.0167 in^3) = 330 inlb
end
-- ---- tee by tee
book "Millrace house psf  rules (invented)"  edition "2026.1"
for 
    replace dividing  parts by level  alternates by alternate deducting deducted  deliveries by delivery
end
