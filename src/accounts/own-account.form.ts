import { z } from 'zod'
import { text } from '../web/fields.ts'
import { email, password, refusalOf } from './accounts.form.ts'
import type { AboutPerson } from './password-refused.ts'

/** Left out where a passkey was shown in its place. */
const present = password.prefault('')

const fresh = (known: AboutPerson) =>
  password.superRefine((typed, context) => {
    const refused = refusalOf(typed, known)
    if (refused) context.addIssue({ code: 'custom', message: refused })
  })

export const nameForm = z.object({ name: text({ most: 100 }) })

/**
 * Each form asks for the password by a name of its own: the page shows all of them, and leads to the one that is wrong.
 */
export const addressForm = z.object({ email, addressPassword: present })

export const passwordForm = (known: AboutPerson) => z.object({ presentPassword: present, newPassword: fresh(known) })

/** By a link of an operator: who has forgotten the present one is not asked for it. */
export const resetForm = (known: AboutPerson) => z.object({ newPassword: fresh(known) })

export const forgottenForm = z.object({ email })

export const endForm = z.object({ session: z.uuid().or(z.literal('others')), endPassword: present })

export const codesForm = z.object({ codesPassword: present })

export const codeForm = z.object({ code: text({ most: 40 }) })

export const passkeyAskedForm = z.object({ addPassword: present })

export const passkeyForm = z.object({ answer: z.string().max(20_000), name: text({ most: 60 }) })

export const renamedForm = z.object({ renamed: z.uuid(), newName: text({ most: 60 }) })

export const removedForm = z.object({ removed: z.uuid(), removePassword: present })

export const givenUpForm = z.object({ giveUpPassword: present })

export const lettersForm = z.object({ read: z.array(z.uuid()).max(100) })

export const deletionForm = z.object({ deletionPassword: present })
