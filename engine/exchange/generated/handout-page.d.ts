export const SCRIPT: string;
export const SCRIPT_HASH: string;
export const STYLE: string;
export const STYLE_HASH: string;
