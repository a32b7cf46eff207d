//! What is written stays, in every version.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use store::{Chosen, Kind, Store, StoreError};

fn store() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("underback.db")).unwrap();
    (folder, store)
}

#[test]
fn each_change_is_a_new_version_and_the_same_text_is_none() {
    let (_folder, mut store) = store();
    assert_eq!(store.write_document(Kind::Brew, "mild", "one", 1).unwrap(), 1);
    assert_eq!(store.write_document(Kind::Brew, "mild", "one", 2).unwrap(), 1);
    assert_eq!(store.write_document(Kind::Brew, "mild", "two", 3).unwrap(), 2);
    assert_eq!(store.write_document(Kind::Brew, "mild", "one", 4).unwrap(), 3);
    let texts: Vec<String> = store
        .versions_of(Kind::Brew, "mild")
        .unwrap()
        .into_iter()
        .map(|version| version.content)
        .collect();
    assert_eq!(texts, ["one", "two", "one"]);
    assert_eq!(store.document(Kind::Brew, "mild").unwrap().unwrap().version, 3);
    assert_eq!(store.documents(Kind::Brew).unwrap().len(), 1);
    assert!(store.documents(Kind::Brewhouse).unwrap().is_empty());
}

#[test]
fn a_version_can_neither_be_changed_nor_thrown_away() {
    let (folder, mut store) = store();
    store.write_document(Kind::Brew, "mild", "one", 1).unwrap();
    let plain = rusqlite::Connection::open(folder.path().join("underback.db")).unwrap();
    assert!(plain.execute("update document_version set content = 'x'", []).is_err());
    assert!(plain.execute("delete from document_version", []).is_err());
    assert_eq!(store.document(Kind::Brew, "mild").unwrap().unwrap().content, "one");
}

#[test]
fn what_is_acknowledged_is_seen_by_another_opening_at_once() {
    let (folder, mut store) = store();
    store.write_document(Kind::Brewhouse, "shed", "pots", 1).unwrap();
    let other = Store::open(&folder.path().join("underback.db")).unwrap();
    assert_eq!(other.document(Kind::Brewhouse, "shed").unwrap().unwrap().content, "pots");
}

#[test]
fn a_choice_is_kept_and_an_unknown_one_changes_nothing() {
    let (_folder, mut store) = store();
    assert_eq!(store.chosen().unwrap(), None);
    store.write_document(Kind::Brewhouse, "shed", "pots", 1).unwrap();
    store.write_document(Kind::Brew, "mild", "beer", 1).unwrap();
    let choice = Chosen { brewhouse: "shed".into(), brew: "mild".into() };
    store.choose(&choice).unwrap();
    assert_eq!(store.chosen().unwrap().as_ref(), Some(&choice));
    let unknown = Chosen { brewhouse: "shed".into(), brew: "stout".into() };
    assert!(matches!(store.choose(&unknown).unwrap_err(), StoreError::Missing { .. }));
    assert_eq!(store.chosen().unwrap(), Some(choice));
}
