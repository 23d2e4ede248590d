/** An element as the tests look at it. */
export interface XmlElement {
	readonly name: string;
	readonly attributes: Readonly<Record<string, string>>;
	readonly children: readonly XmlElement[];
	/** Text of this element and all within it. */
	readonly text: string;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', "#39": "'" };

function decode(text: string): string {
	// XML 1.0, 2.2 Char and 2.4: no bare markup, no character outside the allowed ranges, known references only
	if (/[<>"]/.test(text)) throw new Error(`Bare markup character in ${JSON.stringify(text)}`);
	// biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
	if (/[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|\p{Surrogate}/u.test(text))
		throw new Error(`Character that XML forbids in ${JSON.stringify(text)}`);
	return text.replace(/&([^;&]*);|&/g, (whole, name: string | undefined) => {
		const character = name === undefined ? undefined : ENTITIES[name];
		if (character === undefined) throw new Error(`Unknown reference ${whole} in ${JSON.stringify(text)}`);
		return character;
	});
}

/** Reads the strict subset of XML that a drawing may use: elements, quoted attributes, text and five references. */
export function parseXml(source: string): XmlElement {
	const declaration = '<?xml version="1.0" encoding="UTF-8"?>\n';
	if (!source.startsWith(declaration)) throw new Error("No XML declaration");
	let at = declaration.length;
	const take = (pattern: RegExp): RegExpExecArray | undefined => {
		const sticky = new RegExp(pattern.source, "yu");
		sticky.lastIndex = at;
		const found = sticky.exec(source);
		if (found !== null) at = sticky.lastIndex;
		return found ?? undefined;
	};
	const parseElement = (): XmlElement => {
		const name = take(/<([A-Za-z][\w.-]*)/)?.[1];
		if (name === undefined) throw new Error(`Expected an element at ${JSON.stringify(source.slice(at, at + 40))}`);
		const attributes: Record<string, string> = {};
		for (let found = take(/\s+([A-Za-z][\w:-]*)="([^"]*)"/); found !== undefined; ) {
			const [, key = "", value = ""] = found;
			if (key in attributes) throw new Error(`<${name}> has ${key} twice`);
			attributes[key] = decode(value);
			found = take(/\s+([A-Za-z][\w:-]*)="([^"]*)"/);
		}
		if (take(/\/>/)) return { name, attributes, children: [], text: "" };
		if (!take(/>/)) throw new Error(`Malformed tag <${name}> at ${JSON.stringify(source.slice(at, at + 40))}`);
		const children: XmlElement[] = [];
		let text = "";
		for (;;) {
			text += decode(take(/[^<]*/)?.[0] ?? "");
			if (take(/<\//)) break;
			const child = parseElement();
			children.push(child);
			text += child.text;
		}
		if (!take(new RegExp(`${name}>`))) throw new Error(`<${name}> is not closed`);
		return { name, attributes, children, text };
	};
	const root = parseElement();
	if (source.slice(at).trim() !== "") throw new Error("Something follows the root element");
	return root;
}

export function allElements(root: XmlElement): XmlElement[] {
	return [root, ...root.children.flatMap(allElements)];
}
