import { z } from 'zod'
import { text } from '../web/fields.ts'

const field = z.object({
  name: z.string().regex(/^[a-z0-9_]{1,60}$/),
  type: z.string().optional(),
  format: z.string().optional(),
})

const sum = z.string().regex(/^sha256:[0-9a-f]{64}$/)

/** What is read of a `datapackage.json`: all else in it is for other programs. */
export const descriptorForm = z.object({
  evenground: z.object({
    format: z.number().int(),
    changes: z.number().int().nonnegative(),
    people: sum.optional(),
  }),
  resources: z
    .array(
      z.object({
        name: z.string().regex(/^[a-z_]{1,60}$/),
        path: z.string().regex(/^data\/[a-z_]{1,60}\.csv$/),
        hash: sum,
        schema: z.object({ fields: z.array(field).min(1) }),
      }),
    )
    .min(1),
})

/** Who moved along; nobody is let in by it. */
export const peopleForm = z
  .array(
    z.object({
      name: z.string().trim().min(1).max(100),
      role: z.enum(['reader', 'recorder', 'keeper']),
      email: z.string().max(200).nullable(),
    }),
  )
  .max(500)

export const signatureForm = z.object({
  algorithm: z.literal('Ed25519'),
  publicKey: z.string().regex(/^[\w-]{43}$/),
  signature: z.string().regex(/^[\w-]{86}$/),
})

/** The name under which a key is confirmed. */
export const keyForm = z.object({ name: text({ most: 60 }) })

export type Descriptor = z.output<typeof descriptorForm>
