/** Tells what is wrong at the field that it is wrong of. */

/**
 * The field that a sentence is about: one says by `data-called` how a sentence about it begins. Of
 * "The width" and "The width of section 2" the longer one is meant where both fit.
 */
function fieldOf(root: Element, sentence: string): HTMLElement | null {
  const fields = [...root.querySelectorAll<HTMLElement>('[data-called]')]
    .map((field) => ({ field, called: field.dataset['called'] ?? '' }))
    .filter(({ called }) => called !== '' && sentence.startsWith(called))
    .toSorted((a, b) => b.called.length - a.called.length);
  return fields[0]?.field ?? null;
}

/**
 * Puts an alert at the field that its sentence is about, in the same form (else beside the alert), marks
 * the field for eye and ear, and gives it the focus. Where no field is meant the alert stays where it is.
 */
export function atField(sentence: string): (alert: HTMLElement) => (() => void) | undefined {
  return (alert) => {
    const root = alert.closest('form') ?? alert.parentElement;
    const field = root === null ? null : fieldOf(root, sentence);
    if (field === null) return undefined;
    const folded = field.closest('details');
    if (folded !== null) folded.open = true;
    field.closest('label, fieldset')?.after(alert);
    field.setAttribute('aria-invalid', 'true');
    field.setAttribute('aria-describedby', alert.id);
    field.focus();
    return () => {
      field.removeAttribute('aria-invalid');
      field.removeAttribute('aria-describedby');
    };
  };
}
