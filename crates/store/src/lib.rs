//! SQLite: brewhouses, brews, plans; all SQL is here.
