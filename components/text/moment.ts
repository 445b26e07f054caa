const two = (figure: number): string => String(figure).padStart(2, "0");

/** A day on the device's calendar as a field takes it, `2026-03-02`. */
export const dayOf = (at: Date): string => `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;

/** A moment on the device's clock as a field takes it, `2026-03-02 08:15`. */
export const momentOf = (at: Date): string => `${dayOf(at)} ${two(at.getHours())}:${two(at.getMinutes())}`;
