// XML 1.0, section 2.2: what a document may hold. The rest cannot even be written as a character reference.
const isXmlCharacter = (code: number): boolean =>
	code === 0x9 ||
	code === 0xa ||
	code === 0xd ||
	(code >= 0x20 && code <= 0xd7ff) ||
	(code >= 0xe000 && code <= 0xfffd) ||
	(code >= 0x10000 && code <= 0x10ffff);

const isControl = (code: number): boolean => code < 0x20 || (code >= 0x7f && code <= 0x9f);

/** One line of clean text: white space becomes single spaces, control characters and lone surrogates are dropped. */
export function cleanText(text: string): string {
	let kept = "";
	for (const character of text.replace(/\s+/gu, " ")) {
		const code = character.codePointAt(0) ?? 0;
		if (isXmlCharacter(code) && !isControl(code)) kept += character;
	}
	return kept.trim();
}

const ENTITIES: Readonly<Record<string, string>> = {
	"&": "&amp;",
	"<": "&lt;",
	">": "&gt;",
	'"': "&quot;",
	"'": "&#39;",
};

/** Text that is safe as element content and inside quoted attributes. */
export function escapeXml(text: string): string {
	return cleanText(text).replace(/[&<>"']/g, (character) => ENTITIES[character] ?? "");
}

/** A length or coordinate in paper mm, rounded to 0.01; throws on anything that is not finite. */
export function paperNumber(value: number): string {
	if (!Number.isFinite(value)) throw new RangeError(`A drawing cannot hold the coordinate ${value}.`);
	const rounded = Math.round(value * 100) / 100;
	return String(rounded === 0 ? 0 : rounded);
}

/** An XML id for any document id: two different ids never give the same one. */
export function xmlId(prefix: string, id: string): string {
	let safe = "";
	for (const character of id)
		safe += /[A-Za-z0-9-]/.test(character) ? character : `_${(character.codePointAt(0) ?? 0).toString(16)}_`;
	return `${prefix}-${safe}`;
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; attribute values are escaped and numbers rounded, `children` are markup already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
	let open = `<${name}`;
	for (const [key, value] of Object.entries(attributes))
		if (value !== undefined) open += ` ${key}="${typeof value === "number" ? paperNumber(value) : escapeXml(value)}"`;
	const content = children.join("");
	return content === "" ? `${open}/>` : `${open}>${content}</${name}>`;
}

/** A group with one child a line, so that a changed drawing shows itself in few lines. */
export function group(attributes: Attributes, children: readonly string[]): string {
	return children.length === 0 ? "" : element("g", attributes, "\n", children.filter((c) => c !== "").join("\n"), "\n");
}
