// Numbers as words, in steps that a person can read off a ruler, a scale or a spring balance.

export function number(value) {
  if (!isFinite(value)) return 'not known';
  if (Math.abs(value) < 1e-9) return '0';
  return Number(value.toPrecision(3)).toString();
}

// As a ruler has it: sixteenths of an inch and, below one inch, thirty-seconds.
function inches(value) {
  const size = Math.abs(value);
  let parts = size < 1 ? 32 : 16;
  let marks = Math.round(size * parts);
  if (marks === 0) return size < 1e-9 ? '0' : `under 1/${parts}`;
  const sign = value < 0 ? '-' : '', whole = Math.floor(marks / parts);
  marks %= parts;
  if (marks === 0) return `${sign}${whole}`;
  for (; marks % 2 === 0; marks /= 2) parts /= 2;
  return `${sign}${whole === 0 ? '' : `${whole} `}${marks}/${parts}`;
}

// With its unit, in steps that a person can read off a ruler or a scale.
export function measured(value, unit) {
  if (!isFinite(value)) return 'not known';
  if (unit === 'in') return `${inches(value)} in`;
  if (unit === 'lb' && Math.abs(value) < 1) return `${Number((16 * value).toPrecision(2))} oz`;
  return `${number(value)} ${unit}`;
}
