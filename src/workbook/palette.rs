//! The colors of everything we write, chosen once. Dark and light alternate, so that each pair that must be told
//! apart differs in lightness as well: they stay apart in greyscale print and to color-blind eyes. Nothing is said
//! by color alone; a word, a pattern or a border says it too.

/// Text and strong lines: a dark slate.
pub const INK: u32 = 0x001F_2D3A;
/// Side remarks.
pub const QUIET: u32 = 0x0055_6472;
/// Headings of what was worked out: a deep teal, white letters on it.
pub const HEADING: u32 = 0x0025_4E5A;
/// Letters on dark cells.
pub const PAPER: u32 = 0x00FF_FFFF;
/// Headings of what people typed: sand, dark letters on it.
pub const TYPED_HEADING: u32 = 0x00E6_DCC3;
/// Cells that people type in: pale sand with a dotted edge.
pub const TYPED: u32 = 0x00FB_F7EB;
/// Edges of cells that people type in.
pub const TYPED_EDGE: u32 = 0x008F_7F58;
/// Worked-out cells that stand as they were priced, among others that move: a pale slate.
pub const STILL: u32 = 0x00E4_E9EC;
/// Thin lines between rows.
pub const HAIRLINE: u32 = 0x00CB_D3D8;
/// Totals: a pale teal.
pub const TOTAL: u32 = 0x00CB_DEE0;
/// What stops: a dark plum, white letters on it.
pub const STOP: u32 = 0x0064_2A4F;
/// What warns: a light ochre, dark letters on it.
pub const WARN: u32 = 0x00EF_D08B;
/// Bars for material in a picture: solid teal.
pub const MATERIAL: u32 = 0x0025_4E5A;
/// Bars for labor in a picture: ochre stripes on white.
pub const LABOR: u32 = 0x00B0_7A24;
/// Bars for everything else in a picture.
pub const OTHER: u32 = 0x00A9_B4BB;

#[cfg(test)]
#[allow(clippy::float_arithmetic, reason = "colors are measured")]
mod tests {
    use super::*;

    /// Linear light of the three channels (WCAG 2, relative luminance; IEC 61966-2-1).
    fn linear(color: u32) -> [f64; 3] {
        [16, 8, 0].map(|shift| {
            let c = f64::from((color >> shift) & 0xFF) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        })
    }

    fn luminance([r, g, b]: [f64; 3]) -> f64 {
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    fn contrast(a: u32, b: u32) -> f64 {
        let [a, b] = [a, b].map(|c| luminance(linear(c)) + 0.05);
        if a > b { a / b } else { b / a }
    }

    /// Lightness from 0 to 100 (CIE 1976), which is what a grey print keeps.
    fn lightness(light: [f64; 3]) -> f64 {
        let y = luminance(light);
        if y > 216.0 / 24389.0 { 116.0 * y.cbrt() - 16.0 } else { y * 24389.0 / 27.0 }
    }

    /// What eyes without long or without middle cones see, by Viénot, Brettel and Mollon (1999); and all eyes.
    fn eyes([r, g, b]: [f64; 3]) -> [[f64; 3]; 3] {
        let protan = 0.11238 * r + 0.88762 * g;
        let deutan = 0.29275 * r + 0.70725 * g;
        [
            [r, g, b],
            [protan, protan, (b + 0.00401 * (r - g)).clamp(0.0, 1.0)],
            [deutan, deutan, (b - 0.02234 * (r - g)).clamp(0.0, 1.0)],
        ]
    }

    #[test]
    fn the_measures_are_those_that_are_published() {
        // black on white is 21:1; #777777 on white just fails 4.5:1, #767676 just holds it
        assert!((contrast(0, PAPER) - 21.0).abs() < 1e-9);
        assert!(contrast(0x0077_7777, PAPER) < 4.5 && contrast(0x0076_7676, PAPER) > 4.5);
        // 18.4 % of light is half way up in lightness: 116 × ∛0.184 − 16 = 50
        assert!((lightness([0.184; 3]) - 50.0).abs() < 0.1);
    }

    /// WCAG 2 asks for 4.5:1 of letters of this size.
    #[test]
    fn letters_stand_out_from_what_they_stand_on() {
        let light = [PAPER, TYPED, STILL, TOTAL, TYPED_HEADING, WARN];
        let on_light = [INK, STOP, HEADING].into_iter().flat_map(|text| light.map(|fill| (text, fill)));
        let others = [(QUIET, PAPER), (PAPER, HEADING), (PAPER, STOP)];
        for (text, fill) in on_light.chain(others) {
            let ratio = contrast(text, fill);
            assert!(ratio >= 4.5, "{text:06X} on {fill:06X} is {ratio:.2}:1");
        }
        // edges and bars that carry meaning: 3:1
        for (mark, fill) in [(TYPED_EDGE, TYPED), (MATERIAL, PAPER), (LABOR, PAPER)] {
            assert!(contrast(mark, fill) >= 3.0, "{mark:06X} on {fill:06X}");
        }
    }

    /// What stands side by side and means another thing stays apart in grey, and to eyes that lack a kind of cone.
    #[test]
    fn shadings_differ_in_grey() {
        let pairs = [
            (HEADING, TYPED_HEADING, 40.0),
            (STOP, WARN, 40.0),
            (MATERIAL, OTHER, 20.0),
            (MATERIAL, LABOR, 20.0),
            (LABOR, OTHER, 10.0),
            (PAPER, STILL, 4.0),
            (TYPED, STILL, 4.0),
            (STILL, TOTAL, 4.0),
            (TYPED, TOTAL, 4.0),
        ];
        for (a, b, least) in pairs {
            for (one, other) in eyes(linear(a)).into_iter().zip(eyes(linear(b))) {
                let apart = (lightness(one) - lightness(other)).abs();
                assert!(apart >= least, "{a:06X} and {b:06X} are {apart:.1} apart");
            }
        }
    }
}
