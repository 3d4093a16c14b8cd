// Package migrations holds the schema as numbered steps, one folder per
// engine. Both folders have the same numbers, and a step once released is never
// changed.
//
// A step must leave the database usable by the program that came before it:
// several servers share one database and are not replaced in one instant. So a
// column is added in one release and dropped in a later one.
package migrations

import "embed"

// Files holds the folders sqlite and postgres.
//
//go:embed sqlite/*.sql postgres/*.sql
var Files embed.FS
