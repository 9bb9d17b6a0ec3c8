const SVG = 'http://www.w3.org/2000/svg';

/** An SVG element with its attributes. */
export function createSvg(name: string, attributes: Readonly<Record<string, string | number>> = {}): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  return element;
}
