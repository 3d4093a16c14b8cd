// Package repotest holds the contract of a store as tests that every engine
// passes whole, and opens stores for tests of other packages.
//
// [Run] is the contract. [Engines] are the databases it runs on: a SQLite file,
// and a PostgreSQL whose text is compared by ICU rules and whose user has no
// special rights. [Memory] is a store for tests that do not care.
package repotest
