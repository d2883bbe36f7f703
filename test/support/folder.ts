import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A data folder of its own whose database is there and empty: to make one anew takes seconds of processor. */
export function preparedFolder(file: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-folder-'))
  const database = join(folder, 'database')
  mkdirSync(database)
  execFileSync('tar', ['-xf', file, '-C', database], { stdio: 'pipe' })
  return folder
}
