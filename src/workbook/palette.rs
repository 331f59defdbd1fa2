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
pub const STILL: u32 = 0x00EE_F1F3;
/// Thin lines between rows.
pub const HAIRLINE: u32 = 0x00CB_D3D8;
/// Totals: a pale teal.
pub const TOTAL: u32 = 0x00DC_E9EA;
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
