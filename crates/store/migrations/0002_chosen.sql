-- 0002: which brew is looked at on which brewhouse. One row: the pages of all devices agree.
create table chosen (
    one           integer primary key check (one = 1),
    brewhouse_id  integer not null references document (document_id) on delete restrict,
    brew_id       integer not null references document (document_id) on delete restrict
) strict;
