export const fuelPicture = () => '';
