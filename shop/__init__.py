"""The service: bikes, work orders, labour, parts and paper."""
