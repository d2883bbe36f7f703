import { account } from './en/account.ts'
import { accounts } from './en/accounts.ts'
import { againstTests } from './en/against-tests.ts'
import { close } from './en/close.ts'
import { comparison } from './en/comparison.ts'
import { rowsBehind } from './en/comparison-rows.ts'
import { correcting } from './en/correcting.ts'
import { deciding } from './en/deciding.ts'
import { decisions } from './en/decisions.ts'
import { demo } from './en/demo.ts'
import { diary } from './en/diary.ts'
import { dressing } from './en/dressing.ts'
import { exchange } from './en/exchange.ts'
import { fields } from './en/fields.ts'
import { figures } from './en/figures.ts'
import { findings } from './en/findings.ts'
import { gardens } from './en/gardens.ts'
import { guesses } from './en/guesses.ts'
import { heaps } from './en/heaps.ts'
import { history } from './en/history.ts'
import { home } from './en/home.ts'
import { inputs } from './en/inputs.ts'
import { layout } from './en/layout.ts'
import { ledger } from './en/ledger.ts'
import { limits } from './en/limits.ts'
import { measures } from './en/measures.ts'
import { nextSeason } from './en/next-season.ts'
import { notes } from './en/notes.ts'
import { people } from './en/people.ts'
import { pictures } from './en/pictures.ts'
import { plan } from './en/plan.ts'
import { problem } from './en/problem.ts'
import { question } from './en/question.ts'
import { replicated } from './en/replicated.ts'
import { reports } from './en/reports.ts'
import { rows } from './en/rows.ts'
import { seasons } from './en/seasons.ts'
import { settingRight } from './en/setting-right.ts'
import { settingUp } from './en/setting-up.ts'
import { sheet } from './en/sheet.ts'
import { shell } from './en/shell.ts'
import { side } from './en/side.ts'
import { soil } from './en/soil.ts'
import { summary } from './en/summary.ts'
import { timeline } from './en/timeline.ts'
import { turning } from './en/turning.ts'
import { value } from './en/value.ts'
import { weather } from './en/weather.ts'
import { week } from './en/week.ts'
import { weighing } from './en/weighing.ts'

/** All words that people read, by chapter. */
export const catalogue = {
  account,
  accounts,
  againstTests,
  close,
  comparison,
  correcting,
  deciding,
  decisions,
  demo,
  diary,
  dressing,
  exchange,
  fields,
  figures,
  findings,
  gardens,
  guesses,
  heaps,
  history,
  home,
  inputs,
  layout,
  ledger,
  limits,
  measures,
  nextSeason,
  people,
  pictures,
  notes,
  plan,
  problem,
  question,
  replicated,
  reports,
  rows,
  rowsBehind,
  seasons,
  settingRight,
  settingUp,
  sheet,
  shell,
  side,
  soil,
  summary,
  timeline,
  turning,
  value,
  weather,
  week,
  weighing,
}

export type Words = typeof catalogue
