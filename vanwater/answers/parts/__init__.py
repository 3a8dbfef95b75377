"""What to order and what to cut: hose and pipe by the metre, fittings by kind and size, parts of stock and shelf."""
