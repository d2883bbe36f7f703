import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** The texts of a folder's files with one ending, in the order of their names. Read once, at the start. */
export function keptTexts(folder: string, ending: string): readonly string[] {
  const names = readdirSync(folder).filter((name) => name.endsWith(`.${ending}`))
  return names.sort().map((name) => readFileSync(join(folder, name), 'utf8'))
}
