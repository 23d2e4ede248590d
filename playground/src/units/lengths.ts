/** How lengths are shown. Documents hold millimetres whatever is shown. */
export type UnitSystem = "metric" | "imperial";

const INCH = 25.4; // mm, exact (international inch)
const FOOT = 12 * INCH;
/** Feet and inches are shown to this part of an inch. */
const PARTS = 8;
/** No-break space, between a figure and its unit. */
const SPACE = "\u00a0";

type NumberFormatter = (value: number, digits: number) => string;

function wholePart(value: number, divisor: number): string {
	if (value === 0) return "";
	let [over, under] = [value, divisor];
	while (over % 2 === 0) [over, under] = [over / 2, under / 2];
	return `${over}/${under}`;
}

/** `6'\u00a03\u00a01/2"`: feet and inches to an eighth of an inch. */
function feetAndInches(mm: number): string {
	const eighths = Math.round((Math.abs(mm) / INCH) * PARTS);
	const feet = Math.floor(eighths / (12 * PARTS));
	const inches = Math.floor((eighths - feet * 12 * PARTS) / PARTS);
	const part = wholePart(eighths % PARTS, PARTS);
	const inchText = [inches > 0 || part === "" ? String(inches) : "", part].filter((word) => word !== "").join(SPACE);
	return `${mm < 0 && eighths > 0 ? "\u2212" : ""}${feet > 0 ? `${feet}'${SPACE}` : ""}${inchText}"`;
}

/** A length on the floor: `3.45 m`, or feet and inches. */
export function formatLength(mm: number, units: UnitSystem, number: NumberFormatter): string {
	return units === "metric" ? `${number(mm / 1000, mm % 10 === 0 ? 2 : 3)}${SPACE}m` : feetAndInches(mm);
}

/** A small dimension, as a spacing: `150 mm`, or inches. `digits` are those of the millimetres. */
export function formatSmall(mm: number, units: UnitSystem, number: NumberFormatter, digits = 0): string {
	return units === "metric" ? `${number(mm, digits)}${SPACE}mm` : `${number(mm / INCH, 2)}"`;
}

/** A length of pipe in metres: `74.2 m`, or whole feet. */
export function formatPipe(metres: number, units: UnitSystem, number: NumberFormatter): string {
	return units === "metric" ? `${number(metres, 1)}${SPACE}m` : `${number((metres * 1000) / FOOT, 0)}${SPACE}ft`;
}

/** A floor area, m2. `digits` are those of the square metres; square feet are a tenth as large and have one less. */
export function formatArea(m2: number, units: UnitSystem, number: NumberFormatter, digits = 1): string {
	return units === "metric"
		? `${number(m2, digits)}${SPACE}m²`
		: `${number((m2 * 1e6) / FOOT ** 2, Math.max(0, digits - 1))}${SPACE}ft²`;
}

const TYPED = /^([+\-\u2212]?\d*[.,]?\d+)\s*(mm|cm|m|"|in|'|ft)?$/i;
/** Sign, feet, inches with or without a part of an inch, or that part alone, and the mark of the inches. */
const TYPED_FEET = /^([+\-\u2212]?)(?:(\d+)\s*'\s*)?(?:(\d*[.,]?\d+)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))?\s*("?)$/;
const FACTORS: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, '"': INCH, in: INCH, "'": FOOT, ft: FOOT };

const toNumber = (text: string): number => Number(text.replace(",", ".").replace("\u2212", "-"));

/**
 * Reads a typed length as mm: `2400`, `2.4 m`, `2,4m`, `240 cm`, `8'`, `7' 10 1/2"`. A bare number is mm, or inches where
 * feet and inches are shown. `undefined` when it is no length.
 */
export function readLength(typed: string, units: UnitSystem): number | undefined {
	const text = typed.trim();
	const inches = readFeetAndInches(text);
	if (inches !== undefined) return inches * INCH;
	const plain = TYPED.exec(text);
	if (!plain) return undefined;
	const [, figure = "", unit] = plain;
	const bare = units === "metric" ? 1 : INCH;
	const mm = toNumber(figure) * (unit === undefined ? bare : (FACTORS[unit.toLowerCase()] ?? 1));
	return Number.isFinite(mm) ? mm : undefined;
}

/** Reads what carries the mark of feet or of inches, as inches; `undefined` when it does not. */
function readFeetAndInches(text: string): number | undefined {
	const [, sign, feet, whole, over, under, part, parts, mark] = TYPED_FEET.exec(text) ?? [];
	const says = whole !== undefined || part !== undefined;
	if (feet === undefined ? mark !== '"' || !says : mark === '"' && !says) return undefined;
	const fraction = Number(over ?? part ?? 0) / Number(under ?? parts ?? 1);
	const inches = Number(feet ?? 0) * 12 + toNumber(whole ?? "0") + fraction;
	if (!Number.isFinite(inches)) return undefined;
	return sign === "-" || sign === "\u2212" ? -inches : inches;
}
