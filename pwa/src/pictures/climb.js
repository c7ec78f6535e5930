export const climbPicture = () => '';
