import { accounts } from './en/accounts.ts'
import { comparison } from './en/comparison.ts'
import { diary } from './en/diary.ts'
import { fields } from './en/fields.ts'
import { figures } from './en/figures.ts'
import { gardens } from './en/gardens.ts'
import { inputs } from './en/inputs.ts'
import { problem } from './en/problem.ts'
import { reports } from './en/reports.ts'
import { seasons } from './en/seasons.ts'
import { shell } from './en/shell.ts'

/** All words that people read, by chapter. */
export const catalogue = {
  accounts,
  comparison,
  diary,
  fields,
  figures,
  gardens,
  inputs,
  problem,
  reports,
  seasons,
  shell,
}

export type Words = typeof catalogue
