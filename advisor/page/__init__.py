"""The page: a local web page over the same reports. It needs the extra `page`; only `advisor page` imports it."""
