export const register = () => {};
