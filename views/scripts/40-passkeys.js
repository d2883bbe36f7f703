// A passkey is made or shown by the browser: what it is to sign is asked for when the button is pressed, and its answer
// goes with the form. Where the browser knows no passkeys the forms stay hidden.
{
  const bytes = (text) =>
    Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0))
  const text = (buffer) =>
    btoa(String.fromCharCode(...new Uint8Array(buffer)))
      .replaceAll('+', '-')
      .replaceAll('/', '_')
      .replaceAll('=', '')
  const named = (list = []) => list.map((one) => ({ ...one, id: bytes(one.id) }))

  const answerOf = (credential, more) => ({
    id: credential.id,
    rawId: text(credential.rawId),
    type: credential.type,
    clientExtensionResults: {},
    response: { clientDataJSON: text(credential.response.clientDataJSON), ...more },
  })

  const create = async (options) => {
    const publicKey = {
      ...options,
      challenge: bytes(options.challenge),
      user: { ...options.user, id: bytes(options.user.id) },
      excludeCredentials: named(options.excludeCredentials),
    }
    const made = await navigator.credentials.create({ publicKey })
    return answerOf(made, {
      attestationObject: text(made.response.attestationObject),
      transports: made.response.getTransports?.() ?? [],
    })
  }

  const get = async (options) => {
    const publicKey = {
      ...options,
      challenge: bytes(options.challenge),
      allowCredentials: named(options.allowCredentials),
    }
    const shown = await navigator.credentials.get({ publicKey })
    const { authenticatorData, signature, userHandle } = shown.response
    return answerOf(shown, {
      authenticatorData: text(authenticatorData),
      signature: text(signature),
      ...(userHandle ? { userHandle: text(userHandle) } : {}),
    })
  }

  const ask = async (form) => {
    const body = new URLSearchParams(new FormData(form))
    const headers = { accept: 'application/json' }
    const sent = await fetch(form.dataset.asked, { method: 'POST', body, headers, cache: 'no-store' })
    const said = await sent.json()
    return sent.ok ? { options: said } : { said: said.said }
  }

  const signed = async (form) => {
    try {
      const { options, said } = await ask(form)
      if (!options) return { said }
      return { answer: await (form.dataset.passkey === 'create' ? create : get)(options) }
    } catch {
      return {}
    }
  }

  const press = async (form) => {
    const line = form.querySelector('[role="status"]')
    line.hidden = true
    const { answer, said } = await signed(form)
    if (answer) {
      form.elements.answer.value = JSON.stringify(answer)
      form.requestSubmit()
      return
    }
    line.textContent = said ?? form.dataset.failed
    line.hidden = false
  }

  const forms = window.PublicKeyCredential ? document.querySelectorAll('form[data-passkey]') : []
  for (const form of forms) {
    form.hidden = false
    form.addEventListener('submit', (event) => {
      if (form.elements.answer.value) return
      event.preventDefault()
      event.stopPropagation()
      void press(form)
    })
  }
  if (forms.length > 0) document.querySelector('[data-without-passkeys]')?.remove()
  window.addEventListener('pageshow', () => {
    for (const form of forms) form.elements.answer.value = ''
  })
}
