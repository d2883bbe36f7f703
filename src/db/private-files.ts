import { chmodSync, lstatSync, readdirSync } from 'node:fs'
import { join } from 'node:path'

/** The owner's alone: 700 for folders, 600 for files, also those that were made before. */
export function keepPrivate(path: string): void {
  const found = lstatSync(path, { throwIfNoEntry: false })
  if (!found || found.isSymbolicLink()) return
  const wanted = found.isDirectory() ? 0o700 : 0o600
  if ((found.mode & 0o777) !== wanted) chmodSync(path, wanted)
  if (found.isDirectory()) for (const name of readdirSync(path)) keepPrivate(join(path, name))
}

/** The same for a data folder itself, where nothing else lies in it: it may be a folder that serves others too. */
export function keepFolderPrivate(folder: string): void {
  const ours = /^(database(\.(unfinished|restoring|before-.*))?|backups|backup-door|in-use\..*|starting\..*)$/
  if (readdirSync(folder).every((name) => ours.test(name))) chmodSync(folder, 0o700)
}
