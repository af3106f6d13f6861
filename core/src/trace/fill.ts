/** Fills `{name}` places of a sentence and starts it with a capital. */
export function filledIn(template: string, values: Readonly<Record<string, string | number>>): string {
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return text.charAt(0).toUpperCase() + text.slice(1);
}
