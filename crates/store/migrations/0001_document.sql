-- 0001: a document is a brewhouse or a brew as its person wrote it. Every version is kept, because
-- a plan of last year must be readable beside the pots of last year.
create table document (
    document_id integer primary key,
    kind        text not null check (kind in ('brewhouse', 'brew')),
    slug        text not null check (0 < length(slug)),       -- its name in an address
    unique (kind, slug)
) strict;

-- Append-only: a change is a new version, and the newest one holds.
create table document_version (
    document_id   integer not null references document (document_id) on delete restrict,
    version       integer not null check (0 < version),
    content       text    not null,
    written_at_ms integer not null,                           -- UTC, unix milliseconds
    primary key (document_id, version)
) strict;

create trigger document_version_is_never_changed before update on document_version
begin
    select raise(abort, 'a version of a document is never changed');
end;

create trigger document_version_is_never_thrown_away before delete on document_version
begin
    select raise(abort, 'a version of a document is never thrown away');
end;
