import { accounts } from './en/accounts.ts'
import { close } from './en/close.ts'
import { comparison } from './en/comparison.ts'
import { correcting } from './en/correcting.ts'
import { demo } from './en/demo.ts'
import { diary } from './en/diary.ts'
import { fields } from './en/fields.ts'
import { figures } from './en/figures.ts'
import { findings } from './en/findings.ts'
import { gardens } from './en/gardens.ts'
import { guesses } from './en/guesses.ts'
import { home } from './en/home.ts'
import { inputs } from './en/inputs.ts'
import { layout } from './en/layout.ts'
import { problem } from './en/problem.ts'
import { question } from './en/question.ts'
import { reports } from './en/reports.ts'
import { seasons } from './en/seasons.ts'
import { shell } from './en/shell.ts'
import { timeline } from './en/timeline.ts'

/** All words that people read, by chapter. */
export const catalogue = {
  accounts,
  close,
  comparison,
  correcting,
  demo,
  diary,
  fields,
  figures,
  findings,
  gardens,
  guesses,
  home,
  inputs,
  layout,
  problem,
  question,
  reports,
  seasons,
  shell,
  timeline,
}

export type Words = typeof catalogue
