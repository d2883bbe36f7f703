import { z } from 'zod'

/** Which page of a long list an address asks for, from 1 on; the first where it says nothing or none. */
export const pageNumber = z.coerce.number().int().min(1).max(100_000).catch(1)
