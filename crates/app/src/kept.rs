//! The use cases that need the store: what is kept, what is chosen, and its plan.
//! It keeps solved plans in memory by the versions of their documents, and nothing else.

use crate::planning::{self, Planned, Text};
use crate::{AppError, DEMO_BREW, DEMO_BREWHOUSE, UnitSystem, demo_brewhouses, demo_brews};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use store::{Chosen, Document, Kind, Store};

/// Gives the time, UTC, unix milliseconds.
pub type Clock = Arc<dyn Fn() -> i64 + Send + Sync>;

/// A clock that stands still, for tests.
#[must_use]
pub fn fixed_clock(now_ms: i64) -> Clock {
    Arc::new(move || now_ms)
}

/// Most plans that are remembered.
const REMEMBERED: usize = 64;

/// Document and version of a brewhouse and of a brew.
type PlanKey = ((i64, i64), (i64, i64));

/// The program behind its faces.
pub struct App {
    store: Mutex<Store>,
    clock: Clock,
    plans: Mutex<BTreeMap<PlanKey, Arc<Result<Planned, AppError>>>>,
}

/// A document in a list.
#[derive(Debug, Clone)]
pub struct Listed<T> {
    /// Its name in an address.
    pub slug: String,
    /// Its version, from 1.
    pub version: i64,
    /// What it says; the findings when it can't be used.
    pub read: Result<T, String>,
}

impl App {
    /// Opens the store in `path`; a new one gets the invented brewhouses and brews.
    ///
    /// # Errors
    /// When the store cannot be opened or written.
    pub fn open(path: &Path, clock: Clock) -> Result<Self, AppError> {
        let store = Store::open(path)?;
        let app = Self { store: Mutex::new(store), clock, plans: Mutex::default() };
        if app.store().chosen()?.is_none() {
            app.load_demo()?;
        }
        Ok(app)
    }

    fn store(&self) -> MutexGuard<'_, Store> {
        // A panic in another request leaves no half-done work: every write is a transaction.
        self.store.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// First start: the invented documents, and the choice of the pair that the primer uses.
    fn load_demo(&self) -> Result<(), AppError> {
        let now_ms = (self.clock)();
        let mut store = self.store();
        for (kind, demo) in [(Kind::Brewhouse, demo_brewhouses()), (Kind::Brew, demo_brews())] {
            for document in demo {
                if store.document(kind, document.slug)?.is_none() {
                    store.write_document(kind, document.slug, document.text, now_ms)?;
                }
            }
        }
        let chosen = Chosen { brewhouse: DEMO_BREWHOUSE.to_owned(), brew: DEMO_BREW.to_owned() };
        Ok(store.choose(&chosen)?)
    }

    /// The time, UTC, unix milliseconds.
    #[must_use]
    pub fn now_ms(&self) -> i64 {
        (self.clock)()
    }

    /// Which brew is looked at on which brewhouse.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn chosen(&self) -> Result<Chosen, AppError> {
        let chosen = self.store().chosen()?;
        Ok(chosen.unwrap_or_else(|| Chosen {
            brewhouse: DEMO_BREWHOUSE.to_owned(),
            brew: DEMO_BREW.to_owned(),
        }))
    }

    /// Chooses a brew and a brewhouse.
    ///
    /// # Errors
    /// When one of them is not in the store.
    pub fn choose(&self, chosen: &Chosen) -> Result<(), AppError> {
        Ok(self.store().choose(chosen)?)
    }

    /// All brewhouses.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn brewhouses(&self) -> Result<Vec<Listed<brewhouse::Brewhouse>>, AppError> {
        self.listed(Kind::Brewhouse, planning::read_brewhouse)
    }

    /// All brews.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn brews(&self) -> Result<Vec<Listed<brew::Brew>>, AppError> {
        self.listed(Kind::Brew, planning::read_brew)
    }

    fn listed<T>(
        &self,
        kind: Kind,
        read: impl Fn(Text<'_>) -> Result<T, AppError>,
    ) -> Result<Vec<Listed<T>>, AppError> {
        let documents = self.store().documents(kind)?;
        let listed = documents.into_iter().map(|document| {
            let text = Text { name: &document.slug, text: &document.content };
            let read = read(text).map_err(|error| error.to_string());
            Listed { slug: document.slug, version: document.version, read }
        });
        Ok(listed.collect())
    }

    /// One brewhouse.
    ///
    /// # Errors
    /// When it is not there, or its findings.
    pub fn brewhouse(&self, slug: &str) -> Result<brewhouse::Brewhouse, AppError> {
        let document = self.document(Kind::Brewhouse, slug)?;
        let name = format!("{slug}.toml");
        planning::read_brewhouse(Text { name: &name, text: &document.content })
    }

    fn document(&self, kind: Kind, slug: &str) -> Result<Document, AppError> {
        let missing = || AppError::Missing { kind, slug: slug.to_owned() };
        self.store().document(kind, slug)?.ok_or_else(missing)
    }

    /// The plan of a brew on a brewhouse; solved once for each pair of versions.
    ///
    /// # Errors
    /// When one is not there. What keeps the pair from being planned stands in the result inside.
    pub fn planned(&self, chosen: &Chosen) -> Result<Arc<Result<Planned, AppError>>, AppError> {
        let brewhouse = self.document(Kind::Brewhouse, &chosen.brewhouse)?;
        let brew = self.document(Kind::Brew, &chosen.brew)?;
        let key = ((brewhouse.document_id, brewhouse.version), (brew.document_id, brew.version));
        let plans = || self.plans.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = plans().get(&key) {
            return Ok(Arc::clone(known));
        }
        // Solved outside the lock: another page is not kept waiting.
        let solved = Arc::new(planning::plan(
            Text { name: &format!("{}.toml", brewhouse.slug), text: &brewhouse.content },
            Text { name: &format!("{}.toml", brew.slug), text: &brew.content },
        ));
        let mut plans = plans();
        if plans.len() >= REMEMBERED {
            plans.clear();
        }
        plans.insert(key, Arc::clone(&solved));
        Ok(solved)
    }

    /// The names of a chosen brew and brewhouse; a file that can't be read goes by its address.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn names(&self, chosen: &Chosen) -> Result<(String, String), AppError> {
        let brew = self.document(Kind::Brew, &chosen.brew)?;
        let brew = planning::read_brew(Text { name: &brew.slug, text: &brew.content });
        let brewhouse = self.brewhouse(&chosen.brewhouse);
        Ok((
            brew.map_or_else(|_| chosen.brew.clone(), |brew| brew.name),
            brewhouse.map_or_else(|_| chosen.brewhouse.clone(), |brewhouse| brewhouse.name),
        ))
    }

    /// The units the owner of the chosen brewhouse thinks in.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn usual_units(&self, chosen: &Chosen) -> Result<UnitSystem, AppError> {
        let document = self.document(Kind::Brewhouse, &chosen.brewhouse)?;
        let text = Text { name: &document.slug, text: &document.content };
        Ok(planning::read_brewhouse(text).map_or(UnitSystem::Metric, |read| read.units))
    }
}
