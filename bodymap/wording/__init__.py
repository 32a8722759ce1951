"""Words from the skin, and skin from words. Pure: values in, values out, no Qt."""
