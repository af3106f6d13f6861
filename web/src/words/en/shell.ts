/** Words of the frame around the desks. */
export const shell = {
  'shell.app': 'Pourline',
  'shell.opening': 'Opening…',
  'shell.cannot_open':
    'This browser will not let Pourline keep anything here, so nothing could be saved. Allow storage for this address, or leave private browsing, and reload. ({detail})',
  'shell.skip': 'Skip to the desk',
  'shell.desks': 'Desks',
  'shell.desk.brew': 'Brew',
  'shell.desk.water': 'Water',
  'shell.desk.stage': 'Stage',
  'shell.desk.shelf': 'Shelf',
  'shell.campaign': 'Campaign',
  'shell.menu': 'Menu',
  'shell.broken': 'This desk stopped working: {detail}',
  'shell.broken_safe': 'Everything you saved is still here. Reload the page to go on.',
  'shell.reload': 'Reload',

  'sync.starting': 'Opening…',
  'sync.saved': 'Saved',
  'sync.sending': 'Sending {waiting, plural, one {# change} other {# changes}}…',
  'sync.offline':
    '{waiting, plural, =0 {Offline: everything is saved} one {Offline: # change kept in this browser} other {Offline: # changes kept in this browser}}',
  'sync.offline_short': '{waiting, plural, =0 {Offline} other {Offline: #}}',
  'sync.local': 'No server: kept in this browser',
  'sync.local_short': 'In this browser',
  'sync.local_explained':
    'There is no server at this address, so this browser is the only place that holds your work. Export a copy now and then, and before clearing the browser’s data.',
  'sync.export_now': 'Export a copy',
  'sync.dismiss': 'Got it',

  'theme.title': 'Appearance',
  'theme.system': 'As the system',
  'theme.light': 'Light',
  'theme.dark': 'Dark',

  'menu.export': 'Export this campaign…',
  'menu.import': 'Import an archive…',
  'menu.new_campaign': 'New campaign…',
  'menu.archived': 'Archived…',
  'menu.theme': 'Appearance…',
  'menu.person': 'Your name…',

  'demo.mark': 'Demo',
  'demo.explained': 'An invented campaign to look around in.',
  'demo.remove': 'Remove the demo',

  'empty.title': 'No campaign yet',
  'empty.text':
    'A campaign gathers everything for one contest: coffees, waters, grinders, setups, venues and plans. Start one, or import one from a file.',

  'campaign.new_title': 'New campaign',
  'campaign.name_default': 'My campaign',
  'campaign.start': 'Start',

  'person.title': 'Your name',
  'person.text':
    'Stands beside what is saved from this browser, so that a coach and a brewer can tell whose change it was.',

  'archived.title': 'Archived',
  'archived.none': 'Nothing is archived.',
  'archived.campaigns': 'Campaigns',
  'archived.documents': 'In this campaign',

  'export.done': 'Exported {count, plural, one {# document} other {# documents}} to {file}.',
  'export.without_files':
    'Attached files stay on the server while it cannot be reached; the export holds the documents.',

  'import.title': 'Import an archive',
  'import.choose': 'Choose a file…',
  'import.text':
    'A campaign exported from Pourline, as a JSON file. Nothing you have is replaced without asking.',
  'import.unreadable': 'This file could not be read as JSON: {detail}',
  'import.problems':
    'Nothing was imported. {count, plural, one {One thing is wrong} other {# things are wrong}} with “{file}”:',
  'import.more_problems': 'and {count} more.',
  'import.found':
    '“{file}” holds {count, plural, one {# document} other {# documents}}: {fresh} new, {same} just as here, {changed} that differ from what is here.',
  'import.as_copy': 'Import as a separate copy',
  'import.as_copy_hint': 'Everything gets a new identity; what you have stays as it is.',
  'import.as_revisions': 'Import over what is here',
  'import.as_revisions_hint':
    'New documents are added; the {changed} that differ become new revisions. Earlier ones stay in the history.',
  'import.bring_in': 'Import',
  'import.done': 'Imported {count, plural, one {# document} other {# documents}}.',

  'clash.notice':
    '{count, plural, one {“{name}” was changed in two places.} other {# documents were changed in two places.}} Both versions are kept.',
  'clash.refused_notice': 'The server would not take a change to “{name}”. It is kept here.',
  'clash.choose': 'Choose…',
  'clash.title': 'Two versions of “{name}”',
  'clash.refused_title': 'The server would not take this version of “{name}”',
  'clash.text': 'Both grew from the same state. What stands in the document now is “theirs”.',
  'clash.mine': 'Mine',
  'clash.theirs': 'Theirs',
  'clash.mine_by': 'Mine · {when}',
  'clash.theirs_by': 'Theirs · {who}, {when}',
  'clash.field': 'Field',
  'clash.keep_mine': 'Keep mine',
  'clash.keep_theirs': 'Keep theirs',
  'clash.merge': 'Save the merge',
  'clash.merge_hint': 'Choose for each field. Where only one side changed it, that side is chosen.',
  'clash.not_there': 'not there',
  'clash.empty': 'empty',
  'clash.whole_row': 'whole row',
  'clash.order': 'order',
  'clash.list': '{count, plural, one {# row} other {# rows}}',
  'clash.same': 'The two versions say the same now.',

  'update.ready': 'A newer version of Pourline is ready.',
  'update.load': 'Load it now',
  'update.later': 'Later',
} as const;
