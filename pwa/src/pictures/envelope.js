export const envelopePicture = () => '';
