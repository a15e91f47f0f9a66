/** Under which name this device keeps which shared briefs were opened on it. */
export const OPENED_SHARED = 'rimeway-opened-shared';
