/** How what a package holds stands to its signature, and the fingerprint of the key that it names. */
export interface Seal {
  readonly state: 'unchanged' | 'changed' | 'unsigned'
  readonly fingerprint: string | null
}

/** What is said of it to one who may have confirmed its key; `what` is a name or a number. */
interface SealSaid {
  readonly code: 'here' | 'by' | 'notConfirmed' | 'changed' | 'noSignature'
  readonly what: string
}

/** Only a confirmed key makes a name of a number. */
export function sealSaid({ state, fingerprint }: Seal, { own, name }: { own: string; name: string | null }): SealSaid {
  if (fingerprint === null) return { code: state === 'unsigned' ? 'noSignature' : 'changed', what: '' }
  if (state !== 'unchanged') return { code: 'changed', what: fingerprint }
  if (fingerprint === own) return { code: 'here', what: '' }
  return name === null ? { code: 'notConfirmed', what: fingerprint } : { code: 'by', what: name }
}
