import { pluralsOf } from '../plurals.ts'

export const plural = pluralsOf('en')
