import { z } from 'zod'

const field = z.object({
  name: z.string().regex(/^[a-z0-9_]{1,60}$/),
  type: z.string().optional(),
  format: z.string().optional(),
})

/** What is read of a `datapackage.json`: all else in it is for other programs. */
export const descriptorForm = z.object({
  evenground: z.object({ format: z.number().int(), changes: z.number().int().nonnegative() }),
  resources: z
    .array(
      z.object({
        name: z.string().regex(/^[a-z_]{1,60}$/),
        path: z.string().regex(/^data\/[a-z_]{1,60}\.csv$/),
        hash: z.string().regex(/^sha256:[0-9a-f]{64}$/),
        schema: z.object({ fields: z.array(field).min(1) }),
      }),
    )
    .min(1),
})

export type Descriptor = z.output<typeof descriptorForm>
