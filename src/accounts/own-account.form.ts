import { z } from 'zod'
import { text } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'
import { email, password, refusalOf } from './accounts.form.ts'
import type { Known } from './password-refused.ts'

const present = password.min(1, catalogue.fields.missing)

export const nameForm = z.object({ name: text({ most: 100 }) })

/** Each form asks for the password by a name of its own: the page shows all of them, and leads to the one that is wrong. */
export const addressForm = z.object({ email, addressPassword: present })

export const passwordForm = (known: Known) =>
  z.object({ presentPassword: present, newPassword: password }).superRefine((typed, context) => {
    const refused = refusalOf(typed.newPassword, known, 'newPassword')
    if (refused) context.addIssue({ code: 'custom', ...refused })
  })

export const endForm = z.object({ session: z.uuid().or(z.literal('others')) })

export const deletionForm = z.object({ deletionPassword: present })
