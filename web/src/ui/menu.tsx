import type { ReactElement } from 'react';
import { Menu as AriaMenu, MenuItem, MenuTrigger } from 'react-aria-components/Menu';
import { Popover } from 'react-aria-components/Popover';
import { Icon, type IconName } from './icon.tsx';

export interface MenuEntry {
  key: string;
  label: string;
  icon?: IconName;
  detail?: string;
  disabled?: boolean;
  onChoose: () => void;
}

export interface MenuProps {
  /** The button that opens it. */
  trigger: ReactElement;
  label: string;
  entries: readonly MenuEntry[];
}

/** A list of things to do behind a button. */
export function Menu({ trigger, label, entries }: MenuProps) {
  return (
    <MenuTrigger>
      {trigger}
      <Popover className="popover" placement="bottom end">
        <AriaMenu
          className="list"
          aria-label={label}
          disabledKeys={entries.filter((entry) => entry.disabled).map((entry) => entry.key)}
        >
          {entries.map((entry) => (
            <MenuItem
              key={entry.key}
              id={entry.key}
              textValue={entry.label}
              className="list-item"
              onAction={entry.onChoose}
            >
              {entry.icon && <Icon name={entry.icon} />}
              <span>{entry.label}</span>
              {entry.detail && <span className="list-detail">{entry.detail}</span>}
            </MenuItem>
          ))}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}
