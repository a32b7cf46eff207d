//! A fresh file, every upgrade, and the files that must be left alone.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use rusqlite::Connection;
use std::path::PathBuf;
use store::{Kind, NEWEST_VERSION, Store, StoreError};
use tempfile::TempDir;

fn folder() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deeper").join("underback.db");
    (folder, path)
}

#[test]
fn a_fresh_store_has_the_newest_version_and_safe_settings() {
    let (_folder, path) = folder();
    let store = Store::open(&path).unwrap();
    assert_eq!(store.version().unwrap(), NEWEST_VERSION);
    let plain = Connection::open(&path).unwrap();
    let mode: String = plain.pragma_query_value(None, "journal_mode", |row| row.get(0)).unwrap();
    assert_eq!(mode, "wal");
    assert!(
        store
            .schema()
            .unwrap()
            .iter()
            .filter(|sql| sql.starts_with("create table"))
            .all(|sql| sql.trim_end().ends_with("strict"))
    );
}

#[test]
fn a_store_of_any_version_becomes_the_same_as_a_fresh_one_and_a_copy_stays() {
    let (_fresh_folder, fresh_path) = folder();
    let fresh = Store::open(&fresh_path).unwrap().schema().unwrap();
    for version in 1..NEWEST_VERSION {
        let (_folder, path) = folder();
        let mut old = Store::open_at(&path, version).unwrap();
        assert_eq!(old.version().unwrap(), version);
        old.write_document(Kind::Brew, "kept", "name = \"Kept\"", 7).unwrap();
        drop(old);
        let new = Store::open(&path).unwrap();
        assert_eq!(new.schema().unwrap(), fresh, "from version {version}");
        assert_eq!(new.document(Kind::Brew, "kept").unwrap().unwrap().written_at_ms, 7);
        let copy = PathBuf::from(format!("{}.before-version-{}", path.display(), version + 1));
        let copied = Connection::open(&copy).unwrap();
        let kept: i64 =
            copied.query_row("select count(*) from document", [], |row| row.get(0)).unwrap();
        assert_eq!(kept, 1);
    }
}

#[test]
fn a_store_of_a_newer_program_is_refused_and_not_touched() {
    let (_folder, path) = folder();
    drop(Store::open(&path).unwrap());
    let plain = Connection::open(&path).unwrap();
    plain.pragma_update(None, "user_version", NEWEST_VERSION + 1).unwrap();
    plain.pragma_update_and_check(None, "journal_mode", "delete", |_| Ok(())).unwrap();
    drop(plain);
    let before = std::fs::read(&path).unwrap();
    let error = Store::open(&path).unwrap_err();
    assert!(matches!(error, StoreError::Newer { found, .. } if found == NEWEST_VERSION + 1));
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_damaged_store_is_kept_and_reported() {
    let (_folder, path) = folder();
    let mut store = Store::open(&path).unwrap();
    for number in 0..50 {
        let text = "x".repeat(5_000);
        store.write_document(Kind::Brew, &format!("brew-{number}"), &text, 0).unwrap();
    }
    drop(store);
    let mut bytes = std::fs::read(&path).unwrap();
    for byte in bytes.iter_mut().skip(4096) {
        *byte = 0xA5;
    }
    std::fs::write(&path, &bytes).unwrap();
    let error = Store::open(&path).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_file_that_is_no_store_is_left_alone() {
    let (_folder, path) = folder();
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, "shopping list: malt, hops").unwrap();
    assert!(matches!(Store::open(&path).unwrap_err(), StoreError::Damaged { .. }));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "shopping list: malt, hops");

    let other = path.with_file_name("other.db");
    Connection::open(&other).unwrap().execute_batch("create table t (a)").unwrap();
    assert!(matches!(Store::open(&other).unwrap_err(), StoreError::Damaged { .. }));
}

#[test]
fn a_folder_in_the_place_of_the_file_is_an_error_and_no_panic() {
    let (_folder, path) = folder();
    std::fs::create_dir_all(&path).unwrap();
    assert!(Store::open(&path).is_err());
}
