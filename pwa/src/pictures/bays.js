export const baysPicture = () => '';
