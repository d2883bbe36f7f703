import {
  generateAuthenticationOptions,
  generateRegistrationOptions,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from '@simplewebauthn/server'
import { z } from 'zod'

/** The address that passkeys are bound to, and the name in it that devices know; or why there can be none. */
export type PasskeysHere =
  | { readonly kind: 'offered'; readonly origin: string; readonly rpId: string }
  | { readonly kind: 'refused'; readonly code: 'no-origin' | 'no-name' | 'no-tls' }

/** Browsers take passkeys of a name alone, never of a bare number, and under TLS unless it is their own machine. */
export function passkeysAt(origin: string | null): PasskeysHere {
  if (origin === null) return { kind: 'refused', code: 'no-origin' }
  const { protocol, hostname, origin: exact } = new URL(origin)
  if (hostname.startsWith('[') || /^[\d.]+$/.test(hostname)) return { kind: 'refused', code: 'no-name' }
  const isOwnMachine = hostname === 'localhost' || hostname.endsWith('.localhost')
  if (protocol !== 'https:' && !isOwnMachine) return { kind: 'refused', code: 'no-tls' }
  return { kind: 'offered', origin: exact, rpId: hostname }
}

export type Offered = Extract<PasskeysHere, { kind: 'offered' }>

/** What is stored of a passkey. */
interface PasskeyKept {
  readonly credentialId: string
  readonly publicKey: string
  readonly counter: number
  readonly transports: string
}

interface ToBeAdded {
  readonly personId: string
  readonly email: string
  readonly name: string
  /** What this person has already: the same device is not asked twice. */
  readonly known: readonly { readonly credentialId: string }[]
}

const msToAnswer = 300_000

/** What a browser is told in order to make one; that the device asks for finger, face or number is required. */
export const askedToAdd = ({ rpId }: Offered, { personId, email, name, known }: ToBeAdded) =>
  generateRegistrationOptions({
    rpName: 'Evenground',
    rpID: rpId,
    userID: bytesOf(personId),
    userName: email,
    userDisplayName: name,
    timeout: msToAnswer,
    attestationType: 'none',
    excludeCredentials: known.map(({ credentialId }) => ({ id: credentialId })),
    authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
    supportedAlgorithmIDs: [-8, -7, -257],
  })

/** What a browser is told in order to show one: of whomever, or of this person alone. */
export const askedToShow = ({ rpId }: Offered, known: readonly { readonly credentialId: string }[] = []) =>
  generateAuthenticationOptions({
    rpID: rpId,
    timeout: msToAnswer,
    userVerification: 'required',
    allowCredentials: known.map(({ credentialId }) => ({ id: credentialId })),
  })

/** By which a device knows whose it is: 16 bytes of the person's number, which say nothing of them. */
const bytesOf = (personId: string) => new Uint8Array(Buffer.from(personId.replaceAll('-', ''), 'hex'))
const handleOf = (personId: string) => Buffer.from(bytesOf(personId)).toString('base64url')

const inBase64 = z
  .string()
  .max(20_000)
  .regex(/^[\w-]*$/)
const credentialId = inBase64.min(1).max(1400)
const extensions = z.object({}).transform(() => ({}))

const addedAnswer = z.object({
  id: credentialId,
  rawId: credentialId,
  type: z.literal('public-key'),
  clientExtensionResults: extensions,
  response: z.object({
    clientDataJSON: inBase64,
    attestationObject: inBase64,
    transports: z.array(z.string().regex(/^[a-z-]{1,20}$/)).max(10),
  }),
})

const shownAnswer = z.object({
  id: credentialId,
  rawId: credentialId,
  type: z.literal('public-key'),
  clientExtensionResults: extensions,
  response: z.object({
    clientDataJSON: inBase64,
    authenticatorData: inBase64,
    signature: inBase64,
    userHandle: inBase64.optional(),
  }),
})

const clientData = z.object({ challenge: inBase64.min(1).max(200) })

/** A browser's answer, and the challenge that it says it signed; null where it is none. */
function answerOf<T extends { readonly response: { readonly clientDataJSON: string } }>(
  schema: z.ZodType<T>,
  sent: string,
): { answer: T; challenge: string } | null {
  try {
    const answer = schema.parse(JSON.parse(sent))
    const said = Buffer.from(answer.response.clientDataJSON, 'base64url').toString('utf8')
    return { answer, challenge: clientData.parse(JSON.parse(said)).challenge }
  } catch {
    return null
  }
}

export const addedIn = (sent: string) => answerOf(addedAnswer, sent)
export const shownIn = (sent: string) => answerOf(shownAnswer, sent)

type Added = z.infer<typeof addedAnswer>
type ShownByDevice = z.infer<typeof shownAnswer>

interface Expected {
  readonly here: Offered
  readonly challenge: string
}

interface ExpectedOf extends Expected {
  readonly kept: PasskeyKept
  readonly personId: string
  readonly ofWhomever: boolean
}

/** The passkey that a device has made for this address and this challenge; null where it is not so. */
export async function passkeyAdded(response: Added, { here, challenge }: Expected): Promise<PasskeyKept | null> {
  const checked = await rightOrNull(() =>
    verifyRegistrationResponse({
      response: { ...response, response: { ...response.response, transports: [] } },
      expectedChallenge: challenge,
      expectedOrigin: here.origin,
      expectedRPID: here.rpId,
      requireUserVerification: true,
      supportedAlgorithmIDs: [-8, -7, -257],
    }),
  )
  if (!checked?.verified) return null
  const { id, publicKey, counter } = checked.registrationInfo.credential
  const inText = Buffer.from(publicKey).toString('base64url')
  return { credentialId: id, publicKey: inText, counter, transports: response.response.transports.join(',') }
}

/** How often the device has signed by now; null where it is not this passkey, address, person or challenge. */
export async function countShown(
  response: ShownByDevice,
  { here, challenge, kept, personId, ofWhomever }: ExpectedOf,
): Promise<number | null> {
  // A device that was asked for whomever says whose the passkey is; one that was asked for it by name need not.
  const { userHandle, ...signed } = response.response
  if ((ofWhomever || userHandle !== undefined) && userHandle !== handleOf(personId)) return null
  const checked = await rightOrNull(() =>
    verifyAuthenticationResponse({
      response: { ...response, response: signed },
      expectedChallenge: challenge,
      expectedOrigin: here.origin,
      expectedRPID: here.rpId,
      credential: {
        id: kept.credentialId,
        publicKey: new Uint8Array(Buffer.from(kept.publicKey, 'base64url')),
        counter: kept.counter,
      },
      requireUserVerification: true,
    }),
  )
  return checked?.verified ? checked.authenticationInfo.newCounter : null
}

/** The library throws what is wrong with an answer, in words for whoever writes programs. */
async function rightOrNull<T>(check: () => Promise<T>): Promise<T | null> {
  try {
    return await check()
  } catch {
    return null
  }
}
