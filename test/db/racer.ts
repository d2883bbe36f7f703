import { lockFolder } from '../../src/db/folder-lock.ts'

/** Tries for the folder when the parent says so, tells whether it has it, and holds it until it is killed. */
process.once('message', () => {
  const lock = lockFolder(process.argv[2] ?? '')
  process.send?.(lock.kind)
})
process.send?.('waiting')
setInterval(() => undefined, 60_000)
