"""How it is told: appearance, layout, pictures, words. Pure: values in, text out, no Qt."""
