import { accounts } from './en/accounts.ts'
import { diary } from './en/diary.ts'
import { fields } from './en/fields.ts'
import { gardens } from './en/gardens.ts'
import { inputs } from './en/inputs.ts'
import { problem } from './en/problem.ts'
import { seasons } from './en/seasons.ts'
import { shell } from './en/shell.ts'

/** All words that people read, by chapter. */
export const catalogue = { accounts, diary, fields, gardens, inputs, problem, seasons, shell }

export type Words = typeof catalogue
