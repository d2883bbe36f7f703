// Bundled before it is run: the reader of TypeScript that each of these processes would begin with takes longer than what it
// tries.
import { lockFolder } from '../../src/db/folder-lock.ts'

/** Tries for the folder when the parent says so, tells whether it has it, and holds it until it is killed. */
process.once('message', () => {
  void lockFolder(process.argv[2] ?? '').then((lock) => process.send?.(lock.kind))
})
process.send?.('waiting')
setInterval(() => undefined, 60_000)
