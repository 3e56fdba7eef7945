declare const validate: { (file: unknown): boolean; errors: unknown };
export default validate;
