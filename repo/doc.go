// Package repo keeps what a house writes, in SQLite or PostgreSQL.
//
// Every edit adds a revision, stamped with the house's change counter, and
// never changes an older one; deleting adds a tombstone. So a
// [servewright/domain/recipe.Book] can be read as it stood at any counter.
// A write is one transaction. It takes the counter's row first, which puts all
// writes of one house in a single file, and has the Book check the edit
// before it is kept: two edits that race cannot together break what each alone
// would not have broken.
//
// Each [Store] holds one house's newest Book in memory. It asks the database
// for the counter before it hands the Book out and loads only what is newer,
// so any number of servers on one database agree.
//
// Nothing computed is stored. The bodies of revisions are JSON with member
// names of their own, money as decimal text; body_*.go translates them.
package repo
