// A second press while a form is on its way does nothing; the server would store it once in any case.
document.addEventListener('submit', (event) => {
  const form = event.target
  if (form.dataset.sent) event.preventDefault()
  form.dataset.sent = 'yes'
})
window.addEventListener('pageshow', () => {
  for (const form of document.forms) delete form.dataset.sent
})
