import { accounts } from './en/accounts.ts'
import { fields } from './en/fields.ts'
import { inputs } from './en/inputs.ts'
import { problem } from './en/problem.ts'
import { shell } from './en/shell.ts'

/** All words that people read, by chapter. */
export const catalogue = { accounts, fields, inputs, problem, shell }

export type Words = typeof catalogue
