// Package badger keeps a ledger in a folder, in a Badger database. It may import
// the ledger and Badger, nothing else of the module.
//
// # What is in the folder
//
//	db/        the Badger database, values beside their keys
//	head       the chain's head, kept outside the database (see headFile)
//	snapshot   the last snapshot, with its own checksum
//	ballast    zeros, deleted when the disk is nearly full (see guard)
//
// # Keys in the database
//
//	"f"              the store's format, 4 bytes big-endian: 1
//	"e" + seq        an entry's record (ledger.AppendRecord); seq in 8 bytes big-endian
//	"r" + request id a receipt: fingerprint (32 bytes), first seq (8, big-endian),
//	                 response, CRC-32C (4, big-endian) over request id and all before
//
// One append is one Badger transaction, and the version of all its keys is the
// sequence number of its last entry. So a read at the head's version sees whole
// appends only, and never waits for the commit under way.
//
// # What a crash can lose
//
// Nothing that was acknowledged: the database is synced with each append. The
// head file is written after the append is durable, so it may be behind the
// database, never ahead: a database behind the head file has lost entries, and
// does not open. Written to the kernel after each append, the head file survives
// the process; it is synced once a second, so after a power cut it may be a second
// old, and it notices a loss up to there.
//
// Badger opens many a damaged or cut file without an error and with entries
// missing, and on others it panics in goroutines of its own. So Open first checks
// the tables' checksums itself; then it walks the whole chain, from the first
// entry to the head, and compares it with the head file and with the receipts.
// That is a second or less for a million entries. Verify does the same on an open
// store, and looks at the snapshot.
package badger
