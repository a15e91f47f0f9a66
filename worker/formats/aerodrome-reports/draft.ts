/** A value while it is read: members may be set, lists grow in place. */
export type Draft<Value> = {
  -readonly [Name in keyof Value]: Value[Name] extends readonly (infer Each)[] ? Each[] : Value[Name];
};
