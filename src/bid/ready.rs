//! Rules, prices and a date that are ready to price rooms.

use super::house::House;
use super::prices::Prices;
use super::rules::{Rules, compiled, library_of, read_rows};
use super::worked::Worked;
use crate::drawing::{Layouts, Painted, Painting, layouts};
use crate::engine::Inputs;
use crate::pricing::{Finding, Lined, OwnEntry, PriceBook, take_stock};
use crate::problem::Problem;
use crate::program::Program;
use crate::quantity::Date;
use crate::workbook::carried::{File, Rooms};
use crate::workbook::open::open;
use crate::workbook::rows::read_rooms_and_job;
use crate::workbook::write::MOST_PLANS;

/// A compiled program with its price book: it prices any number of rooms workbooks.
#[derive(Debug)]
pub struct Ready {
    program: Program,
    rules: Option<House>,
    library: Vec<File>,
    prices: Option<Prices>,
    as_of: Date,
    told: Vec<Problem>,
}

impl Ready {
    /// Compiles rules and reads prices for a date.
    ///
    /// # Errors
    /// Every mistake of the books; a file that is no price book; books without rows, by which nothing can be priced.
    pub fn new(rules: &Rules, prices: Option<&File>, as_of: Date) -> Result<Self, Vec<Problem>> {
        let (program, told) = compiled(rules, None)?;
        Self::of_program(program, rules, prices, as_of, told)
    }

    /// As [`Ready::new`], of rules that are compiled already.
    ///
    /// # Errors
    /// As [`Ready::new`].
    pub fn of_program(
        mut program: Program,
        rules: &Rules,
        prices: Option<&File>,
        as_of: Date,
        mut told: Vec<Problem>,
    ) -> Result<Self, Vec<Problem>> {
        read_rows(&program, "so there is nothing to price").map_err(|p| vec![p])?;
        let prices = prices.map(|file| Prices::read(file, as_of, &program.schema)).transpose()?;
        if let Some(prices) = &prices {
            told.extend(prices.told.iter().cloned());
            take_stock(&mut program.schema, &prices.book);
        }
        let library = library_of(&program);
        Ok(Self { program, rules: rules.own().cloned(), library, prices, as_of, told })
    }

    /// The program.
    #[must_use]
    pub fn program(&self) -> &Program {
        &self.program
    }

    /// The price book.
    #[must_use]
    pub fn book(&self) -> Option<&PriceBook> {
        self.prices.as_ref().map(|p| &p.book)
    }

    /// The price book, to try other prices out.
    pub fn book_mut(&mut self) -> Option<&mut PriceBook> {
        self.prices.as_mut().map(|p| &mut p.book)
    }

    /// The price book's file.
    #[must_use]
    pub fn prices_file(&self) -> Option<&File> {
        self.prices.as_ref().map(|p| &p.file)
    }

    /// The house's rule book.
    #[must_use]
    pub fn rules_file(&self) -> Option<&File> {
        self.rules.as_ref().map(House::file)
    }

    /// The books and workbooks that the house's rule book names by their paths.
    pub fn beside(&self) -> impl Iterator<Item = &File> {
        self.rules.iter().flat_map(House::beside)
    }

    /// The built-in books that serve, lowest layer first.
    #[must_use]
    pub fn library(&self) -> &[File] {
        &self.library
    }

    /// The pricing date.
    #[must_use]
    pub fn as_of(&self) -> Date {
        self.as_of
    }

    /// What the books and the prices warn of.
    #[must_use]
    pub fn told(&self) -> &[Problem] {
        &self.told
    }

    /// Reads the rows of a rooms workbook; what it does not say of the job, the price book's sheet Job may.
    ///
    /// # Errors
    /// What keeps the workbook from being read at all.
    pub fn inputs(&self, rooms: &Rooms) -> Result<Inputs, Vec<Problem>> {
        let opened = |file: &File| open(&file.name, file.bytes.to_vec()).map_err(|p| vec![p]);
        let mut second = self.prices.as_ref().map(|p| opened(&p.file)).transpose()?;
        let typed = &rooms.typed;
        let mut rooms = opened(&rooms.file)?;
        rooms.lay_over(typed);
        read_rooms_and_job(&mut rooms, second.as_mut(), &self.program.schema, self.program.texts.clone())
    }

    /// Whether rooms are read as others were, cell by cell.
    #[must_use]
    pub fn reads_the_same(&self, rooms: &Rooms, as_these: &Inputs) -> bool {
        // what is typed over the same in its place brings no new text: texts have the same numbers
        let Ok(inputs) = self.inputs(rooms) else { return false };
        inputs.tables.len() == as_these.tables.len()
            && inputs.tables.iter().zip(&as_these.tables).all(|(a, b)| a.reads_the_same(b))
    }

    /// Works rows out and prices them, with an estimator's own figures beside their lines. What the books and the prices
    /// warn of is among the findings.
    #[must_use]
    pub fn work_out(&self, rooms: &Rooms, mut inputs: Inputs, own: Vec<OwnEntry>) -> Worked<'_> {
        let lined = Lined::new(&self.program, &mut inputs, self.book(), &own);
        self.worked(lined, rooms, inputs, own)
    }

    /// As [`Ready::work_out`]; the plans of the rooms are painted meanwhile, from when they are laid out.
    #[must_use]
    pub fn work_out_and_paint(&self, rooms: &Rooms, mut inputs: Inputs, own: Vec<OwnEntry>) -> (Worked<'_>, Painting) {
        let lined = Lined::new(&self.program, &mut inputs, self.book(), &own);
        let layouts = layouts(&self.program.schema, lined.run(), lined.rooms());
        let painting = self.painting(&rooms.file, layouts, Painted::default());
        (self.worked(lined, rooms, inputs, own), painting)
    }

    /// Orders, cuts and adds up what the lines need, and adds what the books and the prices warn of.
    fn worked<'r>(&'r self, lined: Lined<'r>, rooms: &Rooms, inputs: Inputs, own: Vec<OwnEntry>) -> Worked<'r> {
        let (engine, mut priced) = lined.priced(&inputs, self.book(), &own);
        let told = self.told.iter().map(|problem| Finding::of_no_row(problem.clone(), problem.kind));
        priced.findings.extend(told);
        priced.findings.sort_by_key(|f| std::cmp::Reverse(f.problem.weight));
        Worked { ready: self, rooms: rooms.clone(), engine, inputs, priced, own }
    }

    /// Begins to paint what a workbook holds of a job's plans.
    pub(super) fn painting(&self, rooms: &File, layouts: Layouts, before: Painted) -> Painting {
        Painting::start(layouts, &rooms.name, self.as_of, MOST_PLANS, before)
    }
}
