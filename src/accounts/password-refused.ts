import { isCommon } from './common-passwords.ts'

/** What someone who knows the person would try. */
export interface AboutPerson {
  readonly name: string
  readonly email: string
}

const leastLetters = 10

/** Why a password is not taken, or null. */
export function passwordRefused(password: string, { name, email }: AboutPerson): 'short' | 'common' | null {
  if ([...password].length < leastLetters) return 'short'
  return isCommon(password, [name, email]) ? 'common' : null
}
