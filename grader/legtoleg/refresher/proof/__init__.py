"""What proves the record: certificates, badges, exports, pages, calendars, backups."""
