/** Documents give directions in degrees, geometry reckons in radians; both anticlockwise from +x. */
export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

export const degrees = (radians: number): number => (radians * 180) / Math.PI;
