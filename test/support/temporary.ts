import { existsSync, statfsSync } from 'node:fs'

const inMemory = '/dev/shm'
const leastFree = 4 * 1024 ** 3

/**
 * Folders for a moment lie in memory where a machine has room for them there: what a service forces to the disk is asked
 * for all the same, and a disk that others use too took half of the time of these tests. TMPDIR names another place.
 */
export function layTemporaryInMemory(): void {
  if (process.env.TMPDIR || !existsSync(inMemory)) return
  const { bavail, bsize } = statfsSync(inMemory)
  if (bavail * bsize >= leastFree) process.env.TMPDIR = inMemory
}
