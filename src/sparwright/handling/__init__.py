"""What stick and pedals ask of the pilot: forces, stick free, force per g, harmony."""
