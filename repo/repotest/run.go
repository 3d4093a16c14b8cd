package repotest

import (
	"testing"
)

// contract is what every engine must hold.
var contract = []struct {
	name string
	test func(t *testing.T, db Database)
}{
	{"everything written comes back", testComesBack},
	{"a new house", testNewHouse},
	{"an edit keeps the old readable", testEditKeepsOld},
	{"an edit of an older revision is stale", testStale},
	{"what is not there is not found", testNotFound},
	{"an id is added once", testAddTwice},
	{"a refused edit changes nothing", testRefusedEdit},
	{"an edit function gets a copy", testEditGetsCopy},
	{"codes are unique until deleted", testCodes},
	{"what is used is not deleted", testDeleteInUse},
	{"a deleted thing's revisions stay", testDeleted},
	{"the house is edited like a thing", testHouse},
	{"the house before a moment", testHouseBefore},
	{"times to the microsecond", testTimes},
	{"texts of all scripts", testTexts},
	{"decimals to the last digit", testDecimals},

	{"filters", testFilters},
	{"lists are sorted by folded name", testSorted},
	{"pages", testPages},
	{"pages while others write", testPagesUnderWrites},
	{"a place in no list", testBadPosition},
	{"pages of revisions", testRevisionPages},

	{"the counter has no gaps", testCounter},
	{"the book at any counter", testBookAt},
	{"a book never changes", testBookStays},
	{"two servers agree", testTwoServers},
	{"a reader sees what was acknowledged", testReadsAfterWrites},
	{"houses are apart", testOrgsApart},
	{"servers that start at once share the house", testDefaultOrgRace},

	{"a load is one change", testLoad},
	{"a load replaces by id and code", testLoadReplaces},
	{"a load trades codes", testLoadSwapsCodes},
	{"a load of what is there changes nothing", testLoadSame},
	{"a faulty load changes nothing", testLoadFaults},
	{"a large load", testLoadMany},

	{"no increment is lost", testIncrements},
	{"racing edits close no cycle", testCycleRace},
	{"use and deletion do not pass each other", testUseDeleteRace},
	{"one code goes to one thing", testCodeRace},
	{"a cancelled write changes nothing", testCancelled},
	{"a deadline that passes changes nothing", testDeadline},
}

// Run holds a kind of database to the contract. Nothing can be opted out of.
func Run(t *testing.T, open func(t testing.TB) Database) {
	for _, c := range contract {
		t.Run(c.name, func(t *testing.T) { c.test(t, open(t)) })
	}
}
